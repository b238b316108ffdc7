"""Names of analytes in the languages in which reports come.

German, French, Spanish, Portuguese, Italian, Dutch, Danish, Swedish and Polish.

The words are written without accents, as ``tokens`` gives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from rickyard.labs.vocabulary.texts import phrases

#: Names by analyte, with bars between them.
ABROAD: Final[Mapping[str, str]] = {
    "dm": "trockenmasse|trockensubstanz|trockenmassegehalt|matiere seche|taux de matiere seche|"
    "teneur en matiere seche|materia seca|sostanza secca|droge stof|trockenmasse gehalt|"
    "torrsubstans|ts halt|torstof|torstofindhold|sucha masa|suchej masy|suchej masy zawartosc|"
    "zawartosc suchej masy|drogestof|droge stof ds|ds gehalte|ds|ss|s s|taux de ms|taux ms|"
    "matieres seches|tm gehalt|ts gehalt|torstof ts|torrsubstans ts|sucha masa sm|"
    "droge stof gehalte|teor de materia seca|contenido de materia seca|"
    "contenuto di sostanza secca|materia seca total|torstofprocent",
    "moisture": "wasser|wassergehalt|feuchte|feuchtigkeit|humidite|humedad|eau|teneur en eau|"
    "taux d humidite|hum|agua|contenido de humedad|umidita|vocht|umidade|humidade|"
    "teor de umidade|teor de humidade|vochtgehalte|vand|vandindhold|vandprocent|fugt|vatten|"
    "vattenhalt|fukt|wilgotnosc|woda|wody zawartosc|zawartosc wody|acqua|tenore di umidita|"
    "feuchtegehalt|vocht gehalte|taux humidite",
    "cp": "rohprotein|rp|xp|pc|proteine brute|proteines brutes|matiere azotee totale|"
    "matieres azotees totales|matiere azotee|matieres azotees|"
    "proteina cruda|proteina bruta|proteine|proteines|proteina|"
    "proteine totale|proteines totales|proteina total|proteina grezza|proteine grezze|ruw eiwit|"
    "rohprotein n 6.25|roheiweiss|eiweiss|ruw eiwit re|ruweiwit|raprotein|raeiwit|bialko ogolne|"
    "bialko surowe|bialko|raprot|proteina grezza pg|pg|protidi grezzi|protidi|pg n 6.25|"
    "raprotein n 6.25|proteina bruta pb|proteina cruda pc|xp rohprotein|rohprotein xp|"
    "rohprotein rp|matiere azotee totale mat|matieres azotees totales mat|proteine grezze pg|"
    "bialko ogolne bo|eiwit",
    "n": "azote total|azote|stickstoff|nitrogeno|nitrogeno total|gesamtstickstoff",
    "soluble_cp": "proteine soluble|proteines solubles|proteina soluble|losliches protein|"
    "losliches rohprotein",
    "adicp": "proteine liee adf|proteines liees adf|proteine adf|proteine liee a l adf",
    "adf": "saure detergenzien faser|saure detergens faser|saure detergenzienfaser|"
    "saure detergentienfaser|fibra detergente acida|fda|fad|fibra acido detergente|"
    "fibra detergente acido|fibra en detergente acido|fiber adf|fiber detergent acide|"
    "fiber au detergent acide|fibers au detergent acide|fiber acido detergente|"
    "lignocellulose adf|lignocellulose|adforg|adf org|saure detergenzien faser adf|"
    "fibra em detergente acido|fibra detergente acido fda|fibra acido detersa|"
    "fibra acido deterso|wlokno kwasne|wlokno kwasne adf|wlokno adf|wlokno kwasnodetergentowe|"
    "adf fibra acido detersa|fibers detergent acide adf|fibra em detergente acido fda|"
    "syradetergentfiber|fibra acido detergente fad|fibers au detergent acide adf",
    "ndf": "neutral detergenzien faser|neutrale detergenzien faser|neutrale detergenzienfaser|"
    "neutrale detergentienfaser|fibra detergente neutra|fdn|fnd|fibra neutro detergente|"
    "fibra detergente neutro|fibra en detergente neutro|fiber ndf|fiber detergent neutre|"
    "fiber au detergent neutre|fiber neutro detergente|neutral detergenzien faser ndf|"
    "fibra em detergente neutro|fibra neutro detersa|fibra neutro deterso|wlokno neutralne|"
    "wlokno neutralne ndf|wlokno ndf|wlokno neutralnodetergentowe|parois totales|"
    "parois totales ndf|fibra em detergente neutro fdn|fibra neutro detergente fnd|"
    "neutraldetergentfiber|fibers au detergent neutre|fibers au detergent neutre ndf|parois",
    "lignin": "lda|lignine|lignina|lignine adl|lignina adl|lignin adl|saure detergenzien lignin|"
    "lignina acido detergente|lignina em detergente acido|lad|lignina acido detersa",
    "ee": "rohfett|xl|fett|matiere grasse|matieres grasses|matiere grasse brute|"
    "matieres grasses brutes|grasa|grasas|extracto etereo|grasa cruda|grasa bruta|mg brute|"
    "extrait ethere|gras|gras brut|graisse|graisses|graisse brute|grassi|grassi grezzi|ruw vet|"
    "rvet|ruwvet|rafett|raafedt|rafedt|fedt|tluszcz surowy|tluszcz|ekstrakt eterowy|"
    "extrato etereo|gordura bruta|gordura|gorduras|estratto etereo|lipidi grezzi|lipidi|"
    "grasso grezzo|ruw vet rvet|estratto etereo ee|extracto etereo ee|extrato etereo ee|"
    "fat etherextrakt",
    "ash": "rohasche|xa|asche|cendres|cendres brutes|cendres totales|ceniza|cenizas|"
    "cenizas totales|cinzas|cinza|cinzas totais|materia mineral|matiere minerale|"
    "matieres minerales|ceneri|ruw as|ruwas|ruw as ras|ras|raaske|aske|raaska|aska|popiol surowy|"
    "popiol|ceneri grezze|cinza bruta|cinzas brutas|cenizas brutas|ceniza bruta|"
    "materia mineral mm|matieres minerales mm|raaska aska|rohasche ra",
    "starch": "starke|staerke|amidon|almidon|amido|zetmeel|xs|starke xs|stivelse|starkelse|"
    "skrobia|amidos",
    "wsc": "glucides solubles dans l eau|wasserlosliche kohlenhydrate|"
    "carbohidratos solubles en agua|sucres solubles dans l eau|sucres hydrosolubles|"
    "vattenlosliga kolhydrater|vandoploselige kulhydrater|carboidratos soluveis em agua",
    "esc": "glucides solubles dans l ethanol|sucres solubles dans l ethanol",
    "nfc": "glucides non fibreux|hydrates de carbone non fibreux|hidratos de carbono no fibrosos|"
    "carbohidratos no fibrosos|cnf|gnf|nichtfaserkohlenhydrate|carboidratos nao fibrosos|"
    "carboidrati non fibrosi",
    "nsc": "glucides non structuraux|carbohidratos no estructurales|cne",
    "tdn": "unt|unite nutritive totale|unites nutritives totales|ndt|tnd|"
    "nutriente digestible total|nutrientes digestibles totales|total de nutrientes digestibles|"
    "unites nutritives digestibles totales|matieres nutritives digestibles totales|"
    "nutrientes digestiveis totais|nutrientes digestiveis totais ndt|"
    "nutrientes digestibles totales ndt",
    "nem": "en entretien|en d entretien|en pour entretien|en mantenimiento|en de mantenimiento|"
    "enm entretien|enm mantenimiento|enm|energie nette entretien|energie nette d entretien|"
    "energia neta mantenimiento|energia neta de mantenimiento|energia neta para mantenimiento|"
    "energie nette pour l entretien|enm energie nette d entretien|energia liquida de mantenca|"
    "energia liquida manutencao|energia liquida de manutencao",
    "neg": "en gain|en de gain|en croissance|en ganancia|en de ganancia|en crecimiento|eng gain|"
    "eng ganancia|eng|energie nette gain|energie nette de gain|energie nette croissance|"
    "energie nette de croissance|energia neta ganancia|energia neta de ganancia|"
    "energia neta para ganancia|energia neta crecimiento|energie nette pour le gain|"
    "energia liquida de ganho|energia liquida ganho",
    "nel": "enl lactation|enl lactancia|enl lactacion|en lactation|en de lactation|en lait|"
    "en lactancia|en lactacion|en de lactancia|enl|energie nette lactation|"
    "energie nette de lactation|energia neta lactancia|energia neta de lactancia|"
    "energia neta lactacion|energia neta de lactacion|energia neta para lactancia|"
    "nettoenergie laktation|netto energie laktation|energie nette pour la lactation|"
    "energie nette lait|energia liquida lactacao|energia liquida de lactacao|"
    "energia liquida para lactacao|ell|energia netta latte|energia netta lattazione|nel rind|"
    "nel rinder|nel milchkuh|netto energie laktation nel|nettoenergie laktation nel|nel laktation",
    "me": "umsetzbare energie|energie metabolisable|energia metabolizable|me rind|me rinder|"
    "energie metabolizable|omsattbar energi|oms energi|energia metabolizavel|"
    "energia metabolizzabile|omsaettelig energi|energia metaboliczna|me wiederkauer|"
    "umsetzbare energie me|oms en|oms energi me",
    "de": "energie digestible|energia digestible|verdauliche energie|energia digestivel|"
    "energia digeribile|fordojelig energi|smaltbar energi",
    "rfv": "valeur alimentaire relative|valeur relative alimentaire|valor relativo del forraje|"
    "valor relativo alimenticio|valor relativo alimentario|valor forrajero relativo|vrf|"
    "valor alimenticio relativo|relativer futterwert|valore relativo foraggio|"
    "valore relativo del foraggio|valor relativo forrajero|valor relativo da forragem",
    "rfq": "qualite relative du fourrage|calidad relativa del forraje|qualite fourragere relative",
    "ca": "kalzium|calcio|kalk|kalcium|wapn|calciumgehalte|kalk ca",
    "p": "phosphor|phosphore|fosforo|fosfor|fosfor p",
    "mg": "magnesio|magnez|magnesium mg|magnezium",
    "k": "kalium|potasio|potassio|potas|kali",
    "s": "schwefel|soufre|azufre|zolfo|zwavel|enxofre|svovl|svavel|siarka",
    "na": "natrium|sodio|sod|natrio",
    "cl": "chlor|chlorid|chlore|chlorure|chlorures|cloro|cloruro|cloruros|chloor|chloride cl|"
    "klor|klorid|chlorki|cloretos|cloreto|cloruri",
    "fe": "eisen|fer|hierro|ferro|ijzer|jern|jarn|zelazo",
    "mn": "mangan|manganeso|mangaan|mangaan mn|manganes|manganese mn",
    "zn": "zink|cinc|zincum|zinco|cynk",
    "cu": "kupfer|cuivre|cobre|rame|koper|kobber|koppar|miedz",
    "mo": "molybdan|molybdaen|molybdene|molibdeno|molybden|molibden|molibdenio",
    "co": "kobalt|cobalto|kobolt|kobalt co",
    "se": "selen|selenio|seleen|selenium se",
    "nitrate_no3n": "azote nitrique|nitratstickstoff|nitrat stickstoff|nitrat n|nitrato n|"
    "nitrogeno de nitratos|nitrogeno nitrico|n nitrique|n nitrico|nitraat n|nitraatstikstof|"
    "nitratkvaelstof|nitratkvave|azoto nitrico|nitrogenio nitrico|azot azotanowy|n azotanowy|"
    "azotany n|nitraat stikstof",
    "nitrate_no3": "nitrat no3|nitrato no3|nitratos no3|nitrates no3|nitraat no3|nitraat als no3|"
    "nitrates en no3|nitrat als no3|nitrat som no3|nitratos como no3|nitrato como no3|"
    "nitrati come no3|nitrati no3|azotany no3|azotany jako no3",
    "nitrate": "nitrat|nitrato|nitratos|nitrati|nitraat|azotany|nitrates",
    "lactic": "milchsaure|acide lactique|acido lactico|melkzuur|maelkesyre|mjolksyra|"
    "acido lattico|kwas mlekowy",
    "acetic": "essigsaure|acide acetique|acido acetico|azijnzuur|eddikesyre|attiksyra|kwas octowy",
    "propionic": "propionsaure|acide propionique|acido propionico|propionzuur|propionsyre|"
    "propionsyra|kwas propionowy",
    "butyric": "buttersaure|acide butyrique|acido butirico|boterzuur|smorsyre|smorsyra|"
    "acido butirrico|kwas maslowy",
    "ph": "ph wert|ph valeur|valor ph|valor de ph|zuurgraad ph|zuurgraad|surhedsgrad|ph varde|"
    "ph vaerdi|ph waarde",
    "ndfom": "ndforg|andforg|ndf org|andf org",
}

#: What may stand for several analytes; the person says which.
EITHER_ABROAD: Final[Mapping[str, tuple[str, ...]]] = {
    **dict.fromkeys(
        phrases(
            "zucker|gesamtzucker|sucres|sucres totaux|sucres solubles|azucares|azucares totales|"
            "azucares solubles|zuccheri|suiker|acucares|acucares totais|sukker|socker|cukry|"
            "zuccheri totali|zuckergehalt|restzucker"
        ),
        ("wsc", "esc"),
    ),
    **dict.fromkeys(
        phrases(
            "energie nette|energia neta|nettoenergie|energia netta|energia liquida|netto energie"
        ),
        ("nem", "neg", "nel"),
    ),
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
        "keimzahl|cb|fb|fg|mo dig|pdia|bpr|encombrement|ueb|uel|cbw|digestibilite mo|"
        "digestibilite de la mo|dmo|nitrogeno amoniacal|azoto ammoniacale|ammoniak n|"
        "nh3 fractie|ammoniakfractie|digestibilidade|digestibilidade in vitro|digeribilita|"
        "digeribilita ndf|ruwe celstof|ruwecelstof|celstof|rc|vem|vevi|dve|oeb|vcos|vc os|fos|"
        "organische stof|organische stoff|hemicellulosa|traestof|fen|aat|pbv|aat20|pbv20|efos|"
        "fk organisk stof|organisk stof|fyldevaerdi|vaxttrad|smaltbart raprotein|vos|"
        "organisk substans|wlokno surowe|jpm|btj|btjn|btje|substancja organiczna|strawnosc|"
        "fibra grezza|fibra gregia|ufc|sostanza organica|pdi|emicellulosa|emicellulose|"
        "hemicelulose|celulose|cellulosa|celuloza|materia organica|kvaelstof|fosfolipidi|"
        "foderenheder|foderenhed|nel vc|vre|fmb|esom|udtagningsdybde|"
        "proteine digestible|proteina digestible|relation ca p|rapport ca p|relacion ca p|baca"
    )
)
