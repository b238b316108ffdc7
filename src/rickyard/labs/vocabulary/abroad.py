"""Names of analytes in the languages in which reports come: French, German, Spanish, Italian.

The words are written without accents, as ``tokens`` gives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from rickyard.labs.vocabulary.texts import phrases

#: Names by analyte, with bars between them.
ABROAD: Final[Mapping[str, str]] = {
    "dm": "trockenmasse|trockensubstanz|trockenmassegehalt|matiere seche|taux de matiere seche|"
    "teneur en matiere seche|materia seca|sostanza secca|droge stof|trockenmasse gehalt",
    "moisture": "wasser|wassergehalt|feuchte|feuchtigkeit|humidite|humedad|eau|teneur en eau|"
    "taux d humidite|hum|agua|contenido de humedad|umidita|vocht",
    "cp": "rohprotein|rp|xp|pc|proteine brute|proteines brutes|matiere azotee totale|"
    "matieres azotees totales|proteina cruda|proteina bruta|proteine|proteines|proteina|"
    "proteine totale|proteines totales|proteina total|proteina grezza|proteine grezze|ruw eiwit|"
    "rohprotein n 6.25",
    "n": "azote total|azote|stickstoff|nitrogeno|nitrogeno total|gesamtstickstoff",
    "soluble_cp": "proteine soluble|proteines solubles|proteina soluble|losliches protein|"
    "losliches rohprotein",
    "adicp": "proteine liee adf|proteines liees adf|proteine adf|proteine liee a l adf",
    "adf": "saure detergenzien faser|saure detergens faser|saure detergenzienfaser|"
    "saure detergentienfaser|fibra detergente acida|fda|fad|"
    "fibra acido detergente|fibra detergente acido|fibra en detergente acido|fiber adf|"
    "fiber detergent acide|fiber au detergent acide|fibers au detergent acide|"
    "fiber acido detergente|lignocellulose adf|lignocellulose",
    "ndf": "neutral detergenzien faser|neutrale detergenzien faser|"
    "neutrale detergenzienfaser|neutrale detergentienfaser|fibra detergente neutra|fdn|fnd|"
    "fibra neutro detergente|fibra detergente neutro|fibra en detergente neutro|fiber ndf|"
    "fiber detergent neutre|fiber au detergent neutre|fiber neutro detergente",
    "lignin": "lda|lignine|lignina|lignine adl|lignina adl|lignin adl",
    "ee": "rohfett|xl|fett|matiere grasse|matieres grasses|matiere grasse brute|"
    "matieres grasses brutes|grasa|grasas|extracto etereo|grasa cruda|grasa bruta|mg brute|"
    "extrait ethere|gras|gras brut|graisse|graisses|graisse brute|grassi|grassi grezzi|ruw vet",
    "ash": "rohasche|xa|asche|cendres|cendres brutes|cendres totales|ceniza|cenizas|"
    "cenizas totales|"
    "cinzas|cinza|cinzas totais|materia mineral|matiere minerale|matieres minerales|ceneri|ruw as",
    "starch": "starke|staerke|amidon|almidon|amido|zetmeel",
    "wsc": "glucides solubles dans l eau|wasserlosliche kohlenhydrate|"
    "carbohidratos solubles en agua|sucres solubles dans l eau|sucres hydrosolubles",
    "esc": "glucides solubles dans l ethanol|sucres solubles dans l ethanol",
    "nfc": "glucides non fibreux|hydrates de carbone non fibreux|hidratos de carbono no fibrosos|"
    "carbohidratos no fibrosos|cnf|gnf|nichtfaserkohlenhydrate",
    "nsc": "glucides non structuraux|carbohidratos no estructurales|cne",
    "tdn": "unt|unite nutritive totale|unites nutritives totales|ndt|tnd|"
    "nutriente digestible total|nutrientes digestibles totales|total de nutrientes digestibles|"
    "unites nutritives digestibles totales|matieres nutritives digestibles totales",
    "nem": "en entretien|en d entretien|en pour entretien|en mantenimiento|en de mantenimiento|"
    "enm entretien|enm mantenimiento|enm|energie nette entretien|"
    "energie nette d entretien|energia neta mantenimiento|"
    "energia neta de mantenimiento|energia neta para mantenimiento|"
    "energie nette pour l entretien|enm energie nette d entretien",
    "neg": "en gain|en de gain|en croissance|en ganancia|en de ganancia|en crecimiento|eng gain|"
    "eng ganancia|eng|energie nette gain|energie nette de gain|energie nette croissance|"
    "energie nette de croissance|energia neta ganancia|energia neta de ganancia|"
    "energia neta para ganancia|energia neta crecimiento|energie nette pour le gain",
    "nel": "enl lactation|enl lactancia|enl lactacion|en lactation|en de lactation|en lait|"
    "en lactancia|en lactacion|en de lactancia|enl|energie nette lactation|"
    "energie nette de lactation|energia neta lactancia|"
    "energia neta de lactancia|energia neta lactacion|energia neta de lactacion|"
    "energia neta para lactancia|nettoenergie laktation|netto energie laktation|"
    "energie nette pour la lactation|energie nette lait",
    "me": "umsetzbare energie|energie metabolisable|energia metabolizable|me rind|me rinder|"
    "energie metabolizable",
    "de": "energie digestible|energia digestible|verdauliche energie",
    "rfv": "valeur alimentaire relative|valeur relative alimentaire|valor relativo del forraje|"
    "valor relativo alimenticio|valor relativo alimentario|valor forrajero relativo|vrf|"
    "valor alimenticio relativo|relativer futterwert",
    "rfq": "qualite relative du fourrage|calidad relativa del forraje|qualite fourragere relative",
    "ca": "kalzium|calcio|kalk",
    "p": "phosphor|phosphore|fosforo|fosfor",
    "mg": "magnesio",
    "k": "kalium|potasio|potassio",
    "s": "schwefel|soufre|azufre|zolfo|zwavel",
    "na": "natrium|sodio",
    "cl": "chlor|chlorid|chlore|chlorure|chlorures|cloro|cloruro|cloruros",
    "fe": "eisen|fer|hierro|ferro|ijzer",
    "mn": "mangan|manganeso|mangaan",
    "zn": "zink|cinc|zincum|zinco",
    "cu": "kupfer|cuivre|cobre|rame|koper",
    "mo": "molybdan|molybdaen|molybdene|molibdeno",
    "co": "kobalt|cobalto",
    "se": "selen|selenio",
    "nitrate_no3n": "azote nitrique|nitratstickstoff|nitrat stickstoff|nitrat n|nitrato n|"
    "nitrogeno de nitratos|nitrogeno nitrico|n nitrique|n nitrico",
    "nitrate_no3": "nitrat no3|nitrato no3|nitratos no3|nitrates no3",
    "nitrate": "nitrat|nitrato|nitratos|nitrati",
    "lactic": "milchsaure|acide lactique|acido lactico",
    "acetic": "essigsaure|acide acetique|acido acetico",
    "propionic": "propionsaure|acide propionique|acido propionico",
    "butyric": "buttersaure|acide butyrique|acido butirico",
    "ph": "ph wert|ph valeur|valor ph|valor de ph",
}

#: What may stand for several analytes; the person says which.
EITHER_ABROAD: Final[Mapping[str, tuple[str, ...]]] = {
    **dict.fromkeys(
        phrases(
            "zucker|gesamtzucker|sucres|sucres totaux|sucres solubles|azucares|azucares totales|"
            "azucares solubles|zuccheri|suiker"
        ),
        ("wsc", "esc"),
    ),
    **dict.fromkeys(phrases("energie nette|energia neta|nettoenergie"), ("nem", "neg", "nel")),
}

#: Printed by laboratories, but the farm folder has no place for it.
NOT_OURS_ABROAD: Final = frozenset(
    phrases(
        "rohfaser|xf|cellulose brute|fiber brute|fibra bruta|fibra cruda|organische substanz|"
        "organische masse|matiere organique|materia organica|rnb|ruminale stickstoffbilanz|nxp|"
        "nutzbares rohprotein|nutzbares protein|ufl|ufv|pdi|pdin|pdie|dmo|"
        "digestibilite de la matiere organique|hemicelulosa|celulosa|zellulose|gasbildung|"
        "divms|dms|digestibilidad|digestibilidad in vitro|digestibilite|digestibilite in vitro|"
        "digestibilidad de la materia seca|digestibilite de la matiere seche|eln|"
        "elos|bor|bore|boro|aluminium|aluminio|blei|plomb|plomo|cadmium|cadmio|jod|iode|yodo|"
        "proteine digestible|proteina digestible|relation ca p|rapport ca p|relacion ca p|baca"
    )
)
