"""What stands beside the values, and words of bases, in tongues of the north and the east."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

#: Words without which a label says the same.
ARTICLES: Final = "ze|dne|den|z|v|ve|od|a az|kelte|din|si|un|ja"
#: Words of a date.
DATES: Final = "datuma|paiva|paivamaara|pvm|kuupaev|tarih|tarihi|datums|datumi|ideje"
#: Words of a number.
NUMBERS: Final = "cislo|c|szam|szama|sorszam|azonosito|stevilka|st|broj|br|numurs|numarasi"
#: Words of a sample.
SAMPLE: Final = (
    "vzorku|vzorek|vzorky|vzorka|nayte|naytteen|minta|probei|proba|proov|proovi|vzorec|vzorca|"
    "uzorak|uzorka|numune|ornek|meginys|meginio|paraugs|parauga"
)
#: Fields by the labels that laboratories print.
FIELDS: Final[Mapping[str, str]] = {
    "id": "oznaceni|oznaceni vzorku|nazev|nazev vzorku|oznacenie|oznacenie vzorky|nazov vzorky|"
    "tunnus|naytteen tunnus|naytteen nimi|merking|provemerking|provens merking|megnevezes|"
    "minta neve|minta jele|jeloles|minta megnevezese|denumire|denumire proba|denumirea probei|"
    "nimetus|proovi nimetus|oznaka|oznaka vzorca|ime vzorca|naziv|naziv uzorka|oznaka uzorka|"
    "numune adi|ornek adi|pavadinimas|meginio pavadinimas|nosaukums|parauga nosaukums",
    "weak_id": "pozemek|parcela|lohko|skifte|jorde|tabla|pold|parcela naziv|tarla",
    "number": "naytenumero|naytenro|mintaszam|provenummer|proovinumber|azonosito",
    "sampled_on": "odber|odberu|odebrano|naytteenottopaiva|naytteenottopvm|naytteenotto|"
    "naytteenoton|otettu|provetatt|uttatt|provetaking|prelevare|prelevarii|recoltare|recoltarii|"
    "mintavetel|mintavetele|mintavetel ideje|proovivott|proovivotu|odvzem|odvzema|odvzeto|"
    "uzorkovanje|uzorkovanja|uzorkovano|numune alma|ornekleme|emimo|paemimo|paimta|nemsanas|"
    "nemsana|paemts",
    "received_on": "prijato|prijem|prijeti|prijmu|doruceno|dorucenia|prijate|saapunut|"
    "saapumispaiva|vastaanotettu|vastaanottopaiva|mottatt|mottak|mottaks|beerkezes|beerkezett|"
    "erkezett|atvetel|primit|primire|primirii|receptie|receptiei|saabus|saabunud|saabumise|"
    "sprejem|sprejema|prejeto|prejema|zaprimljeno|primljeno|prijema|kabul|gelis|gavimo|gauta|"
    "sanemts|sanemsanas",
    "reported_on": "protokol|vystaveno|vystaveni|vystavene|vystavenia|zprava|analyysipaiva|"
    "analysoitu|raportti|raportoitu|raporttipaiva|valmistunut|rapport datert|datert|rapportert|"
    "rapport|jelentes|kiadas|kiallitas|kiallitva|raport|raportului|emiterii|aruanne|aruande|"
    "porocilo|porocila|izdano|izdaje|izvjestaj|izvjestaja|izvjesce|rapor|ataskaita|ataskaitos|"
    "protokolas|protokolo|parskats|parskata",
    "method": "menetelma|analyysimenetelma|modszer|meetod|yontem|metot|metodas",
    "forage": "krmivo|druh krmiva|rehu|rehulaji|naytteen laatu|forslag|fortype|takarmany|"
    "takarmany fajta|furaj|soot|krma|vrsta krme|yem|pasaras|bariba",
    "client": "zakaznik|asiakas|tilaaja|oppdragsgiver|megrendelo|ugyfel|klient|narocnik|"
    "narucitelj|musteri|uzsakovas|pasutitajs",
    "analyte": "ukazatel|stanoveni|maaritys|analyysi|ominaisuus|vizsgalat|indicator|determinare|"
    "naitaja|parametar|pokazatelj|analiz|rodiklis|raditajs|bestemmelse|analyse",
    "result": "vysledek|vysledok|hodnota|tulos|arvo|pitoisuus|verdi|eredmeny|ertek|rezultat|"
    "valoare|tulemus|vrednost|vrijednost|sonuc|deger|rezultatas|verte|rezultats",
    "unit": "jednotka|yksikko|enhet|benevning|mertekegyseg|egyseg|unitate|unitate de masura|uhik|"
    "enota|jedinica|mjerna jedinica|birim|vienetas|mervieniba",
    "basis": "ilmoitettu|vztazeno|prepocet|prepoctu na|v prepoctu na|vztazeno na|perusta|"
    "angitt i|vonatkozas|"
    "raportat la|exprimat la",
    "order": "zakazka|tilaus|tilausnumero|ordre|bestilling|sivu|oldal|pagina|strana|huomautus|"
    "poznamka|merknad|megjegyzes|observatii|sato|kaszalas",
}
#: Headings of what is no sample.
ASIDE: Final = (
    r"prumer\w*|priemer\w*|lonsk\w+|minul\w+ rok\w*|loni|cilov\w+|orientacni|referencni|"
    r"smerodatn\w+|"
    r"nejistota|keskiarvo\w*|viime vuo\w+|edellinen vuosi|tavoite\w*|ohjearvo\w*|vertailu\w*|"
    r"mittausepavarmuus|gjennomsnitt\w*|i fjor|fjorar\w*|forrige ar|normtall|landsgjennomsnitt|"
    r"maleusikkerhet|usikkerhet|malverdi|veiledende|atlag\w*|tavaly\w*|elozo ev\w*|celertek\w*|"
    r"referencia ?ertek\w*|meresi bizonytalansag|media probelor|medie|anul trecut|"
    r"valori de referinta|valoare tinta|keskmi\w+|eelmis\w+ aasta\w*|povprec\w+|lansk\w+ let\w*|"
    r"ciljn\w+|prosjek\w*|prosl\w+ godin\w*|ortalama\w*|gecen yil\w*|hedef\w*|vidurk\w+|"
    r"praeit\w+ met\w*|videj\w+|ieprieksej\w+ gad\w*"
)
ASIDE_ALONE: Final = "snitt|cil|norma|tavoite|hedef|medie|raja arvo|ohje"
#: Dry matter, as a pattern for ``re`` and texts without accents.
DRY: Final = (
    r"\b(?:(?:v|ve|ze|na) )?(?:100 ?% )?susin(?:e|y|ou|u|a)\b|"
    r"\bkuiva[- ]?aine(?:essa|en|ena|esta|tta|kilossa|kg)?\b|(?<=[%gm])\s*ka\.?(?![a-z])|"
    r"\b(?:pa |av |i )?torrstoff(?:et|basis)?\b|\bszarazanyag\w*|(?<=kg) sz\.?a\.?(?![a-z])|"
    r"(?<=[%m]) sz\.?a\.?(?![a-z])|\b(?:din |la |pe |in )?substant[ae]i? uscat[ae]i?\b|"
    r"(?<=[%gm]) (?:din )?s\.?u\.?(?![a-z])|\bkuivaine\w*|\b(?:v )?suh[aei] snov\w*|"
    r"\b(?:u |na )?suh[aeou]j? tvar\w*|\bkuru madde\w*|(?<=[%gm]) k\.?m\.?(?![a-z])|"
    r"\bsausos(?:ios|iose|e)? medziag\w+|\bsausuju medziagu\b|\bsausn[aāeē]s?\b"
)
#: As received, likewise.
RECEIVED: Final = (
    r"\b(?:v |na )?(?:puvodni|povodnej|cerstv[ea]j?|dodane) hmot\w+|\bv (?:puvodnim|dodanem) "
    r"(?:vzorku|stavu)|\bjak dodano\b|\bve vzorku\b|\bv cerstvem stavu\b|\btuorepaino\w*|"
    r"\btuore(?:essa|esta|ainees\w+|painosta)?\b|\bnaytteessa\b|\balkuperai\w+ naytte\w+|"
    r"\bfersk ?vekt\b|\bferskvare\w*|\bsom mottatt\b|\bi (?:den )?(?:opprinnelige )?proven\b|"
    r"\bopprinnelig (?:prove|vare)\b|\beredeti (?:anyag|nedvesseg|allapot|minta)\w*|"
    r"\bfriss (?:tomeg|anyag)\w*|\bbeerkezett allapot\w*|\bca atare\b|"
    r"\b(?:substanta|materie) proaspata\b|\bproovis\b|\blooduslik\w* niiskus\w*|\btoormass\w*|"
    r"\b(?:v )?svez[aie] snov\w*|\bv vzorcu\b|\bu uzorku\b|\bsvjez\w+ tvar\w*|\bkao primljeno\b|"
    r"\bdogal halde\w*|\byas bazda\b|\btaze madde\w*|\bnatural\w+ medziag\w+|"
    r"\bpradin\w+ megin\w+|\bdabisk\w+ (?:parau\w+|mitrum\w+)"
)
#: A sentence speaks of results.
STATES: Final = (
    r"\bvšech\w+|\bvšet\w+|\bvýsledky\b|\bhodnoty\b|\bkaikki\b|\btulokset\b|\barvot\b|"
    r"\balle\b|\bverdier\b|\bminden\b|\beredmény\w*|\btoate\b|\brezultatele\b|\bvalorile\b|"
    r"\bkõik\b|\btulemused\b|\bvs[ie]\b|\brezultati\b|\bvrednosti\b|\bsvi\b|\bvrijednosti\b|"
    r"\btüm\b|\bsonuçlar\b|\bvisi\b|\brezultatai\b|\brezultāti\b"
)
#: Words of a statement that names nothing but a basis and units.
STATING: Final = (
    "vsechny|vsechno|vysledky|hodnoty|obsahy|udaje|jsou|uvedeny|vyjadreny|vsetky|su|kaikki|tulokset|"
    "arvot|pitoisuudet|ovat|ilmoitettu|alle|verdier|resultatene|angitt|oppgitt|minden|eredmeny|"
    "ertek|eredmenyek|ertekek|az|toate|rezultatele|valorile|sunt|exprimate|raportate|la|pe|koik|"
    "tulemused|vse|vsi|rezultati|vrednosti|so|svi|sve|vrijednosti|izrazeni|tum|sonuclar|degerler|"
    "visi|rezultatai|v|ve|na|z|u|pro|kg"
)
