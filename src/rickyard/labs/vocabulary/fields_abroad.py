"""What stands beside the values, in the languages in which reports come.

German, French, Spanish, Portuguese, Italian, Dutch, Danish, Swedish and Polish, with those of
``tongues`` beside them; written without
accents and articles, numbers and dates named by one word each, the words in the order of the
alphabet, so that "N° de laboratoire" and "Laboratorio n.o" are alike.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Final

from rickyard.labs import tongues
from rickyard.labs.vocabulary.texts import phrases, tokens

#: Words without which a label says the same.
_ARTICLES: Final = frozenset(
    phrases(
        "de|da|do|das|dos|der|des|du|di|del|dell|della|dello|dei|la|le|les|l|d|el|los|las|il|lo|"
        "van|het|den|dem|die|das|af|av|am|vom|em|op|dnia|en|pr|et|och|og|" + tongues.ARTICLES
    )
)
_DATES: Final = frozenset(
    phrases("datum|date|fecha|data|dato|dag|dia|jour|day|daty|dzien|giorno|tag|" + tongues.DATES)
)
_NUMBERS: Final = frozenset(
    phrases(
        "no|nr|n|num|numero|numer|nummer|nro|number|nos|code|codigo|codice|kod|kode|"
        "ref|reference|referencia|riferimento|rif|kenmerk|" + tongues.NUMBERS
    )
)
#: Of these, what the sender wrote, and no number that he has there.
_MARKS: Final = frozenset(phrases("ref|reference|referencia|riferimento|rif|kenmerk"))
#: "Labornummer", "Analysenr.", "Eingangsdatum": a number or a date at the end of a word.
_ENDS: Final = re.compile(r"(?P<stem>[a-z]{3,}?)(?P<kind>nummer|nr|szama?|datum|dato|code|kode)")
_MINE: Final = frozenset(
    phrases("unser|unsere|notre|nuestra|nuestro|nosso|nossa|ons|vores|vart|ns")
)
_YOURS: Final = frozenset(
    phrases("ihr|ihre|votre|su|sua|seu|uw|deres|er|vostro|vostra|client|cliente|klant|vs")
)
_CUSTOMERS: Final = frozenset(phrases("client|cliente|klant"))

_SAMPLE: Final = (
    "probe|proben|echantillon|echantillons|muestra|muestras|amostra|amostras|monster|monsters|"
    "prove|prover|prov|campione|campioni|probka|probki|"
) + tongues.SAMPLE
_LABORATORY: Final = (
    "lab|labor|labo|laboratoire|laboratorio|laboratorium|laboratorie|laboratory|laboratoryjny|"
    "analyse|analysen|analyses|analys|analisis|analise|analisi|analizy|untersuchung|untersuchungs|"
    "onderzoek|onderzoeks|badania|pruf|prufung|tagebuch|journal|registo|registro|enregistrement|"
    "registrazione|accettazione|acceptation|protocolo|rapporto prova|laboratorie|laboratoriums"
)

#: Fields by the labels that laboratories print abroad.
_FIELDS: Final[Mapping[str, str]] = {
    "id": "bezeichnung|kennzeichnung|kennung|muster|sackaufschrift|aufschrift|designation|libelle|"
    "repere|nom|identification|nombre|identificacion|descripcion|etiqueta|identificacao|"
    "designacao|descricao|nome|naam|omschrijving|monsteromschrijving|monsteraanduiding|"
    "monsternaam|merk|provenavn|provemaerke|maerkning|provemaerkning|betegnelse|navn|"
    "provmarkning|markning|provnamn|benamning|namn|nazwa|opis|denominazione|identificazione|"
    "descrizione|etichetta|probenbezeichnung|probenname|echantillon nom|nom|muestra nombre|"
    "amostra nome|campione nome|campione descrizione|nazwa probki|opis probki|"
    "oznaczenie probki|echantillon identification|identificacion muestra|"
    "amostra identificacao|amostra descricao|descripcion muestra|" + _SAMPLE,
    "weak_id": "schlag|feld|partie|posten|parcelle|lot|lote|parcela|potrero|campo|talhao|perceel|"
    "partij|kuil|parti|skifte|pole|partia|dzialka|appezzamento|lotto|fundo|hof|stapel|silo",
    "sampled_on": "probenahme|probeentnahme|probenentnahme|entnahme|entnommen|gezogen|gezogen am|"
    "prelevement|prelev|preleve|prelevee|echantillonne|echantillonnage|muestreo|toma|muestra toma|"
    "extraccion|muestreado|muestreada|tomada|tomado|colheita|coleta|amostragem|colhida|colhido|"
    "coletada|coletado|bemonsterd|bemonstering|bemonsterings|monstername|genomen|provetaget|"
    "udtaget|udtagning|udtagnings|provetagning|provetagnings|provtaget|provtagning|provtagnings|"
    "uttaget|pobrania|pobrano|pobrana|pobranie|pobrania probki|prelievo|prelevato|"
    "campionamento|campionato|genommen",
    "received_on": "eingang|eingangs|eingegangen|probeneingang|probeneingangs|erhalten|recu|"
    "recue|reception|arrive|arrivee|recepcion|recibido|recibida|ingreso|entrada|recebido|recebida|"
    "rececao|recepcao|recebimento|ontvangen|ontvangst|ontvangsts|binnengekomen|binnenkomst|"
    "modtaget|modtagelses|modtagelse|ankommet|ankomst|inkom|mottaget|ankom|przyjecia|przyjeto|"
    "otrzymania|otrzymano|dostarczenia|wplywu|wplynelo|wplyw|ricevimento|ricevuto|ricevuta|"
    "arrivo|arrivato|accettazione",
    "reported_on": "bericht|berichts|prufbericht|ausgestellt|ausstellung|ausstellungs|ausgabe|"
    "edite|edition|rapport|emis|emission|imprime|informe|emitido|emision|salida|relatorio|emissao|"
    "emitida|verslag|verslags|rapports|uitslag|uitslag van|udskrevet|udsendt|svar|svars|utskriven|"
    "raportu|sprawozdania|sprawozdanie|wydania|wydano|emissione|emesso|rapporto|referto|"
    "erstellt|druck|ausdruck",
    "method": "methode|verfahren|untersuchungsmethode|technique|metodo|metodi|tecnica|metode|"
    "metod|metoda|methodes|analysemethode|messverfahren",
    "forage": "futterart|probenart|futtermittel|art|fourrage|nature|type fourrage|type|produit|"
    "espece|matrice|forraje|tipo|tipo forraje|producto|especie|tipo muestra|forragem|produto|"
    "amostra tipo|soort|product|ruwvoer|gewas|soort voer|voer|foder|fodermiddel|"
    "foderart|materiale|afgrode|fodermedel|foderslag|groda|typ|pasza|rodzaj|paszy rodzaj|material|"
    "gatunek|probki rodzaj|foraggio|foraggio tipo|tipologia|prodotto|specie|materiale|matrix",
    "client": "auftraggeber|kunde|einsender|betrieb|landwirt|eleveur|exploitation|ferme|demandeur|"
    "explotacion|ganadero|solicitante|finca|produtor|exploracao|fazenda|requerente|klant|"
    "opdrachtgever|bedrijf|relatie|landmand|rekvirent|bedrift|kund|uppdragsgivare|lantbrukare|"
    "gard|klient|zleceniodawca|rolnik|gospodarstwo|azienda|committente|allevatore",
    "order": "auftrag no|auftrags no|seite|rechnung|rechnungs no|kunden no|schnitt|erntejahr|"
    "bemerkung|bemerkungen|telefon|dossier|facture|client no|coupe|remarque|remarques|tel|"
    "pagina|corte|observaciones|telefono|fatura|encomenda|observacoes|pedido|telefone|factuur|"
    "opdracht|relatie no|snede|opmerking|faktura|side|ordre|slaet|bemaerkning|tlf|kunde no|kunden|"
    "sida|skord|anmarkning|kund no|strona|zlecenie|pokos|uwagi|fattura|ordine|taglio|note|page",
    "analyte": "parameter|prufparameter|merkmal|inhaltsstoff|untersuchung|analyse|parametre|"
    "critere|determination|element|constituant|parametro|determinacion|analisis|analito|ensayo|"
    "componente|nutriente|analise|determinacao|ensaio|bepaling|onderzoek|bestemmelse|naeringsstof|"
    "analys|bestamning|amne|naringsamne|parametr|skladnik|badana cecha|analiza|badania rodzaj|"
    "analisi|determinazione|analita|prova|merkmale|parametres|parametros|bepalingen",
    "result": "ergebnis|ergebnisse|messwert|wert|gehalt|analysenwert|befund|resultat|resultats|"
    "valeur|teneur|resultado|resultados|valor|contenido|teor|resultaat|uitslag|waarde|gehalte|"
    "vaerdi|varde|halt|innehall|wynik|wyniki|zawartosc|wartosc|indhold|risultato|risultati|valore|"
    "contenuto|uw resultaat",
    "unit": "einheit|masseinheit|dimension|unite|unites|unidad|unidades|ud|uds|unidade|unid|"
    "eenheid|enhed|enhet|jednostka|jedn|jm|misura unita|unita|um|j m|u m",
    "basis": "bezug|bezugsbasis|bezogen auf|basis|base|exprime sur|expression|rapporte|"
    "expresado sobre|expresado|referido|base expresion|expresso|uitgedrukt|uitgedrukt in|"
    "angivet i|udtrykt i|bas|angivet|uttryckt i|podstawa|przeliczeniu|espresso su|riferito|"
    "exprime|bezugsgrosse|angivet",
}  # fmt: skip
#: Days that are none of these: of harvest.
_HARVEST: Final = frozenset(
    phrases(
        "ernte|schnitt|erntejahr|recolte|coupe|fauche|corte|cosecha|maai|oogst|slaet|host|hosts|"
        "skord|skorde|zbioru|taglio|raccolta|ceifa"
    )
)


def _normal(text: str) -> tuple[tuple[str, ...], bool, bool]:
    """Return the words of a label without articles; whether they name a date; a number."""
    kept: list[str] = []
    dated = numbered = False
    for word in tokens(text):
        ends = _ENDS.fullmatch(word)
        if ends:
            kept.append(ends["stem"])
        kind = ends["kind"] if ends else word
        if kind in _DATES:
            dated = True
        elif kind in _NUMBERS:
            numbered = True
        elif not ends and word not in _ARTICLES:
            kept.append(word)
    if "o" in kept and numbered:
        kept.remove("o")  # "N.o"
    return tuple(sorted(kept)), dated, numbered


@cache
def _known() -> dict[str, str]:
    return {
        " ".join(sorted(label.split())): field
        for every in (tongues.FIELDS, _FIELDS)
        for field, labels in every.items()
        for label in labels.split("|")
    }


@cache
def words_of_fields() -> frozenset[str]:
    """Return every word of a label of a field in another language, without accents."""
    labels = (*_known(), _SAMPLE.replace("|", " "), _LABORATORY.replace("|", " "))
    return frozenset(word for label in labels for word in label.split()) | _DATES | _NUMBERS


def field_abroad(text: str) -> str:
    """Return which field a label names in another language, or an empty string.

    Parameters
    ----------
    text : str
        The label.

    Returns
    -------
    str
        The field by its name in ``FIELDS``.

    Examples
    --------
    >>> field_abroad("Bemonsteringsdatum"), field_abroad("N° de laboratoire")
    ('sampled_on', 'lab_no')
    >>> field_abroad("Nr badania"), field_abroad("Provenavn"), field_abroad("Date de coupe")
    ('lab_no', 'id', 'order')
    """
    words, dated, numbered = _normal(text)
    mine, yours = _MINE & set(words), _YOURS & set(words)
    known = _known()
    left = " ".join(word for word in words if word not in _MINE | _YOURS)
    if dated:
        if not left or _HARVEST & set(words):
            return "order"
        if left in _SAMPLE.split("|"):
            return "sampled_on"
        found = known.get(left, "")
        return found if found.endswith("_on") else ""
    if numbered:
        if yours & _CUSTOMERS and not _MARKS & set(tokens(text)):
            return "order"
        return _of_number(left, bool(mine), bool(yours), known, _plain_mark(text))
    whole = known.get(" ".join(words), "")
    if whole or not left:
        return whole
    found = known.get(left, "")
    return found if (mine or yours) and found in ("id", "number", "client") else ""


def _plain_mark(text: str) -> bool:
    """Return whether a label is "Referencia" alone."""
    return " ".join(tokens(text)) in ("referencia", "riferimento")


def _of_number(left: str, mine: bool, yours: bool, known: dict[str, str], marked: bool) -> str:
    """Return whose number a label names: the laboratory's, the sender's, or that of an order."""
    if left in _LABORATORY.split("|"):
        return "id" if yours else "lab_no"
    if not left or left in _SAMPLE.split("|"):
        return "lab_no" if mine else "id" if yours else "number" if left or marked else ""
    found = known.get(f"{left} no", "") or known.get(left, "")
    return found if found in ("order", "id", "weak_id") else "order" if found == "client" else ""


#: Headings of what is no sample, in other languages.
ASIDE_ABROAD: Final = re.compile(
    r"\b(?:vorjahr\w*|letztes jahr|soll(?:bereich|wert)e?|norm(?:al)?bereiche?|messunsicherheit|"
    r"grenzwerte?|vergleichs?(?:wert|mittel)\w*|spannweite|landesmittel|"
    r"annee (?:precedente|derniere|passee)|an dernier|campagne precedente|objectifs?|incertitude|"
    r"fourchette|appreciation|valeurs? (?:moyenne|typique)s?|moyenne \w+|"
    r"valor(?:es)? (?:de referencia|tipicos?|medios?|normal(?:es)?|normais|ideal|ideais)|"
    r"ano anterior|ano pasado|campana anterior|rango (?:optimo|normal|de referencia)|objetivo|"
    r"incertidumbre|calificacion|incerteza|faixa ideal|safra anterior|"
    r"streef(?:waarde|traject)n?|gemiddelden?|gemiddeld|vorig jaar|vorige (?:snede|kuil)|"
    r"richtwaarden?|normaalwaarden?|beoordeling|normtal|gennemsnit|sidste ar|forrige ar|"
    r"landsgennemsnit|vejledende|usikkerhed|malvaerdi|riktvarden?|medelvarden?|forra aret|"
    r"foregaende ar|malvarden?|normalvarden?|rikssnitt|matosakerhet|srednia|"
    r"wartosc (?:docelowa|referencyjna|srednia)|poprzedni rok|rok ubiegly|zakres normalny|"
    r"niepewnosc|valor[ei] (?:di riferimento|guida|ottimal[ei]|medi[oi]?|tipic[oi]|normal[ei])|"
    r"anno (?:precedente|scorso)|incertezza|media (?:zona|aziendale|regionale)|giudizio|"
    rf"{tongues.ASIDE})\b"
)
#: The same, where they stand alone.
ASIDE_ALONE_ABROAD: Final = frozenset(
    phrases(
        "spanne|norme|norma|media|medias|medel|middel|snitt|mal|rango|intervallo|intervalo|zakres|"
        "ocena|bewertung|vergleich|normal|normaal|referentie|referencia|reference|ecart|"
        "repere haut|repere bas|repere|minimo|maximo|massimo|minimum|maksimum|maximum|meta|"
        "obiettivo|mittel|durchschnitt|promedio|moyenne|moy|schnitt normal|riferimento|"
        + tongues.ASIDE_ALONE
    )
)
