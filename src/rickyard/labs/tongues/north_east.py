"""Names of analytes in tongues of the north and the east of Europe, with bars between them.

Left out are those that name people and places in English too: "baker" is copper in Slovene.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

#: Names by analyte; Czech and Slovak first, then from the north to the south.
ANALYTES: Final[Mapping[str, str]] = {
    "dm": "susina|obsah susiny|celkova susina|kuiva aine|kuiva ainepitoisuus|"
    "kuiva aineen pitoisuus|"
    "torrstoff|torrstoffinnhold|torrstoffprosent|szarazanyag|szarazanyag tartalom|"
    "szarazanyagtartalom|substanta uscata|substanta uscata su|kuivaine|kuivaine sisaldus|"
    "kuivainesisaldus|suha snov|vsebnost suhe snovi|suha tvar|udio suhe tvari|kuru madde|"
    "sausosios medziagos|sausoji medziaga|sausuju medziagu kiekis|sausna|sausnas saturs",
    "moisture": "vlhkost|obsah vody|obsah vlhkosti|kosteus|vesipitoisuus|kosteuspitoisuus|"
    "vanninnhold|vann|nedvesseg|nedvessegtartalom|nedvesseg tartalom|viztartalom|umiditate|"
    "continut de apa|niiskus|niiskusesisaldus|vlaga|vsebnost vlage|udio vlage|rutubet|dregme|"
    "dregmes kiekis|mitrums|mitruma saturs",
    "cp": "nl|n latky|nl dusikate latky|dusikate latky|dusikate latky nl|hruby protein|"
    "hruba bilkovina|hrube bilkoviny|raakavalkuainen|raakaproteiini|valkuainen|raprotein|"
    "nyersfeherje|nyersfeherje tartalom|feherje|proteina bruta|proteine brute|toorproteiin|"
    "surove beljakovine|surovi proteini|sirovi proteini|sirovi protein|sirove bjelancevine|"
    "ham protein|zali proteinai|zali baltymai|baltymai|kopproteins|bialko og|bialko og lne",
    "adf": "acidodetergentni vlaknina|acido detergentni vlaknina|kyselodetergentni vlaknina|"
    "acidodetergentna vlaknina|happodetergenttikuitu|syredetergentfiber|savdetergens rost|"
    "savdetergens rost adf|happekiud",
    "ndf": "neutralnedetergentni vlaknina|neutralne detergentni vlaknina|"
    "neutralnodetergentna vlaknina|neutraalidetergenttikuitu|neutraalikuitu|"
    "noytraldetergentfiber|neutralis detergens rost|semleges detergens rost|neutraalkiud",
    "ee": "tuk|hruby tuk|raakarasva|rasva|rafett|nyerszsir|grasime bruta|grasimi brute|grasimi|"
    "toorrasv|surove mascobe|surova mascoba|sirova mast|sirove masti|ham yag|zali riebalai|"
    "riebalai|koptauki",
    "ash": "popel|popeloviny|hruby popel|popol|popoloviny|hruby popol|tuhka|raakatuhka|"
    "aske|raaske|nyershamu|hamu|cenusa|cenusa bruta|toortuhk|tuhk|surovi pepel|pepel|"
    "sirovi pepeo|pepeo|ham kul|zali pelenai|pelenai|koppelni|pelni",
    "starch": "skrob|tarkkelys|kemenyito|tarklis|nisasta|krakmolas|ciete",
    "ca": "vapnik|kalsium|kalcium|calciu|kaltsium|kalcij|kalsiyum|kalcis|kalcijs",
    "p": "fosfori|foszfor|fosforas|fosfors",
    "mg": "horcik|magnezium|magneziu|magneesium|magnezij|magnezyum|magnis|magnijs",
    "k": "draslik|potasiu|kaalium|kalij|potasyum|kalijs",
    "na": "sodik|sodiu|naatrium|natrij|sodyum|natris|natrijs",
    "s": "rikki|svovel|vaavel|zveplo|sumpor|kukurt",
    "cl": "chlorid|kloridi|kloridit|clor|kloor|klorid|klorur",
    "fe": "zelezo|rauta|jern|raud|zeljezo|demir|gelezis|dzelzs",
    "mn": "mangaani|mangaan|manganas|mangans",
    "zn": "zinek|zinok|sinkki|sink|cink|tsink|cinko|cinkas|cinks",
    "cu": "kupari|kobber|cupru|vask|bakar|bakir",
    "mo": "molybdeeni|molibden|molubdeen",
    "co": "kobaltti|koobalt",
    "se": "seleeni|szelen|seleniu|seleen",
    "nitrate_no3n": "dusicnanovy dusik|dusik dusicnanovy|nitraattityppi|nitratnitrogen|nitrat n|"
    "nitratni dusik|azot nitric|nitraatlammastik",
    "nitrate_no3": "dusicnany no3|dusicnan no3|nitraty no3|nitraatti no3|nitratai no3|nitrat no3|"
    "nitraat no3|azotati no3",
    "nitrate": "dusicnany|dusicnan|nitraty|nitraatti|nitraatit|nitratai|azotati|nitratlar",
    "me": "metabolizovatelna energie|metabolizovatelna energia|muuntokelpoinen energia|"
    "omsettelig energi|metabolizalhato energia|energie metabolizabila|metaboliseeruv energia|"
    "presnovna energija|presnovljiva energija|metabolicka energija|metabolik enerji|"
    "apykaitos energija|mainas energija|me muuntokelpoinen energia",
    "nel": "netto energie laktace|netto energia laktacie|netto energia laktacio|laktacios energia|"
    "nettoenergi laktasjon|netoenergie laktace|neto energija laktacije|neto energija za laktacijo|"
    "energie neta lactatie",
    "de": "stravitelna energie|sulava energia|fordoyelig energi|emesztheto energia|"
    "energie digestibila|prebavljiva energija",
}

#: What may stand for several analytes.
EITHER: Final[Mapping[str, tuple[str, ...]]] = {
    "cukr|cukry|cukor|sokeri|sokerit|osszes cukor|zahar|zaharuri|suhkur|suhkrud|sladkorji|seceri|"
    "seker|cukrus|cukurs|cukuri": ("wsc", "esc"),
    "netto energie|nettoenergia|nettoenergi|netto energia|neto energija": ("nem", "neg", "nel"),
}

#: Printed by laboratories, but the farm folder has no place for it.
NOT_OURS: Final = (
    "hruba vlaknina|vlaknina|raakakuitu|kuitu|trevler|ratrevler|nyersrost|celuloza bruta|"
    "toorkiud|surova vlaknina|surova vlakna|sirova vlakna|ham seluloz|ham lif|zalia lasteliena|"
    "kokskiedra|d arvo|oiv|pvt|ivk|sulavuus|rehuyksikko|syontiindeksi|fem|feg|nel20|"
    "fordoyelighet|stravitelnost|organicka hmota|orgaaninen aine|organisk stoff|szerves anyag|"
    "bnlv|bezdusikate latky vytazkove|pdin|pdie|nem laktace|ammoniumtyppi|kokonaistyppi|"
    "maitohappo ja muurahaishappo|seeduvus|probavljivost|prebavljivost|emeszthetoseg"
)
