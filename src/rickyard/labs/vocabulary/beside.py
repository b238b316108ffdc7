"""What stands beside the values: names and numbers of samples, dates, method, kind of forage."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Final

from rickyard.labs.vocabulary.fields_abroad import ASIDE_ABROAD, ASIDE_ALONE_ABROAD, field_abroad
from rickyard.labs.vocabulary.named import is_own_check
from rickyard.labs.vocabulary.texts import phrases, plain, tokens, unaccented
from rickyard.labs.vocabulary.units import is_only_unit

#: Fields of a sample by the labels that laboratories print, the most telling first.
FIELDS: Final[Mapping[str, str]] = {
    "id": "sample marked|marked as|sample identity|identity|feed id|sample tag|tag|tag no|"
    "as marked by you|marked by you|sample as labelled|labelled|labeled|grower sample id|"
    "sample id|sample i d|sample name|sample identification|identified as|identification|"
    "client id|owner id|owner mark|owner sample id|grower mark|"
    "client sample id|client sample|customer sample id|customer id|sample description|"
    "description|designation|your reference|your ref|your sample|your id|your mark|marked|"
    "customer sample|name of sample|sample label|bag|bag label|bag mark|bag no|bag number|"
    "sample|samples|id|sender mark|mark|sample mark|label|client reference|"
    "customer reference|sample ref|sample reference|field id|id on bag|written on bag|"
    "sample id on bag|name on bag|sample as marked|client sample no|client ref|"
    "customer sample no|your no|your number|sender id|submitted as|sample designation|"
    "client sample name|bag id|client description|feed name|sample identity|sample title|"
    "probe|probenbezeichnung|bezeichnung|kennung|probenname|"
    "amostra|nome da amostra|identificacao|identificacao da amostra|monster|monsternaam|campione|"
    "what the bag says|bag says|says on bag|says on the bag|"
    "echantillon|muestra|reference echantillon|nombre muestra|nombre de la muestra|identificacion|"
    "identificacion de la muestra|id muestra|id de la muestra|nom echantillon|nom de l echantillon|"
    "identification de l echantillon|votre echantillon|su muestra|descripcion|"
    "descripcion de la muestra|"
    "hay id|lot id|"
    "customer mark|client mark|customer ref|ref of customer|hay lot|producer sample id|"
    "producer mark|"
    "name of parcel|parcel name|parcel|name of field|name of lot|name of stack",
    "weak_id": "grower id|producer id|farm id|hay from|feed from|sample from|sampled from|marked|"
    "field|lot|lot no|lot number|field name|stack|name|location|field lot|lot name|"
    "field or lot|paddock|stack name|lot field|hay|item|source|feed|barn|"
    "plot|plot no|plot number|plot id|entry|entry no|entry number",
    "lab_no": "registo|n de registo|no de registo|numero de registo|registro|labnr|"
    "lab file|laboratory file|proben nr|probennummer|labornummer|labor nr|"
    "lab no|lab number|lab id|laboratory no|laboratory number|our number|our no|"
    "our ref|our reference|lab sample no|lab sample id|lab sample number|laboratory id|"
    "laboratory sample no|analysis no|analysis number|accession|accession no|accession number|"
    "lab code|lab ref|lab reference|lab|log no|log number|lims id|lims no|laboratory sample id|"
    "login no|login number|login id|login|"
    "lab log no|lab log number|lab file no|lab entry|entry no|case no|case number|case|labo|"
    "no labo|"
    "n labo|no de lab|no de labo|nro lab|nro de lab|nro laboratorio|nro de laboratorio|"
    "num labo|numero labo|no lab|nr lab|laboratory sample number|lab sample|"
    "test no|test number|lab log|"
    "lab control|lab control no|laboratory reference|lab nr|lab serial|lims number|lims|"
    "labornummer|labor nr|no de laboratoire|n de laboratoire|numero de laboratoire|"
    "no de laboratorio|numero de laboratorio|no laboratorio|"
    "internal no|internal number|control no|control number|their no|their number|their ref",
    "number": "card|card no|card number|"
    "reference|ref|reference no|reference number|ref no|ref number|sample code|code|"
    "sample no|sample number|no|number|sample nr|nr|sample num|serial no|s no",
    "sampled_on": "when sampled|sampled|sampled on|date sampled|sample date|sampling date|"
    "date taken|taken|"
    "taken on|collected|date collected|collected on|collection date|date of sampling|cored|"
    "date cored|cored on|drawn|date drawn|drawn on|date of collection|sample taken|"
    "probenahme|probenahmedatum|entnahme|entnahmedatum|probenentnahme|gezogen am|"
    "preleve le|date de prelevement|date prelevement|preleve|fecha de toma|"
    "fecha de toma de muestra|colheita|data de colheita|colhido em|bemonsterd|bemonsterd op|"
    "datum bemonstering|"
    "muestreado|muestreado el|tomada el|echantillonne le|"
    "fecha de muestreo|fecha muestreo|"
    "sample collected|day sample taken|day sample was taken|date sample was taken|day taken|"
    "day sample was drawn|day sampled|was sampled|sampling day|day sampled|date pulled|pulled|"
    "date probed|probed",
    "received_on": "when received|login date|received|came in|came in on|came to us|got here|"
    "received on|date received|date in|arrived|arrived on|"
    "date arrived|date of receipt|receipt|receipt date|in lab|sample received|samples received|"
    "received date|arrival|logged in|date logged|recd|rec d|date recd|arrival date|date rec d|"
    "eingang|eingangsdatum|probeneingang|recu|recu le|fecha de recepcion|fecha recepcion|recepcion|"
    "fecha de ingreso|recibido el|date de reception|fecha de recibo|recibido|"
    "received in lab|received at lab|logged|in",
    "reported_on": "reported|sent out|went out|sent out on|report sent|"
    "rept d|reptd|date rept d|rpt d|reported on|date reported|"
    "date out|report date|date of report|"
    "completed|completed on|date completed|printed|date printed|issued|issued on|"
    "date issued|mailed|date mailed|released|completion date|finished|tested on|date tested|"
    "analyzed on|date analyzed|analysed on|date analysed|analysis date|report|out|finished on|"
    "analyzed|analysed|tested|issue date|date of issue|results released|date finished|"
    "berichtsdatum|rapport le|date de rapport|fecha del informe|fecha de reporte|fecha de emision|"
    "emitido el|informe del|rapport du|date du rapport|fecha de informe|report issued|results date|"
    "result date|date of analysis|reporting date|report printed",
    "method": "by|method|chemistry|methods|analysis method|method of analysis|analytical method|"
    "test method|analysis type|type of analysis|procedure|how tested|technique|assay|"
    "analysis by|analysed by method|tested by|analyzed by|analysis performed by|test type|how",
    "forage": "type of hay|kind of forage|forage|type|material|feed type|forage type|crop|"
    "species|product|kind|"
    "sample type|feedstuff|hay type|feed material|commodity|matrix|type of feed|crop type|"
    "kind of hay|type of sample|sample kind|kind of sample|feed class|feed description|"
    "class|plant|type of forage|forage class|material type|product type|stand|variety",
    "client": "billed to|client|customer|account|farm|grower|producer|submitted by|sender|"
    "name of client|"
    "client name|customer name|account name|sent by|for|farm name|company|submitter|results for|"
    "cliente|productor|producteur|eleveur|ferme|rancho|finca|predio|establecimiento|"
    "owner|ranch|attn|attention|bill to|send to|copy to|advisor|consultant|contact|prepared for",
    "lab": "laboratory|lab name|laboratory name|testing laboratory|tested at|analyzed at",
    "order": "date|day|time|order|order no|order number|batch|batch no|job|job no|job number|"
    "work order|"
    "invoice|page|po|report no|report number|report id|account no|account number|"
    "farm code|farm no|farm number|herd code|herd no|herd number|client code|customer code|"
    "grower code|producer code|dairy code|"
    "client no|client number|customer no|customer number|phone|fax|tel|email|submission|"
    "submission no|set|cutting|cut|bale type|package|cores|harvested|cut on|harvest date|"
    "date cut|baled|baled on|date baled|notes|note|remarks|comments|comment|county|state|zip|"
    "address|storage|price|invoice no|moisture at baling|acct|acct no|bales|tons|weight|run|"
    "quote|purchase order|kit|tray|rack|plate|instrument|analyst|tech|approved|approved by|"
    "checked by|signed|signed by|certificate|certificate no|web|website|telephone|mobile|"
    "report to|samples in this order|number of samples|page no|due|due date|sent|date sent|"
    "ticket|ticket no|ticket number|p o|p o no|po no|po number|docket|docket no|dossier|no dossier|"
    "n dossier|no de dossier|numero de dossier|commande|no commande|no de commande|facture|"
    "no de facture|expediente|no expediente|no de expediente|pedido|orden|no de orden|factura|"
    "auftrag|auftragsnummer|adresse|direccion|member|member no|member number|route|truck|"
    "truck no|seal|seal no|bale count|bales in lot|number of bales|no of bales|lot size|tonnage|"
    "project|project no|sampler|sampled by|taken by|collected by|drawn by|cored by|probed by|"
    "fecha de corte|fecha de cosecha|date de recolte|date de coupe|waybill|tracking|tracking no|"
    "tracking number|receipt no|paid|payment|terms|balance|balance due|amount due|total due|"
    "turnaround|priority|container|condition on arrival|condition|"
    "shipped|mailed on|grind date|date ground|valid until|expires|printed by|version|revision",
    "run": "pan|pan no|pan number|rep|rep no|rep number|replicate|replicate no|replicate number|"
    "repetition|dup|duplicate|aliquot|aliquot no|sub sample|subsample|subsample no|crucible|"
    "crucible no|tin|tin no|dish|dish no|flask|flask no|tube no|determination no|reading no",
    "analyte": "analyte|component|parameter|constituent|determination|test|nutrient|"
    "item|analysis|measurement|property|assay name|test name|components|nutrients|tests|"
    "parameters|analytes|constituents|what|measure|feed analysis|determinand|variable|"
    "parameter desc|parameter description|test desc|test description|"
    "analyte name|component name|parameter name|"
    "analyse|essai|parametre|parametro|merkmal|untersuchung|determinacion|analisis|nutrient name|"
    "component desc|analyte desc|analysis name|analysis desc|constituent name|"
    "feed component|fraction",
    "result": "figure|figures|res|result|results|value|values|reading|found|level|"
    "result value|reported value|"
    "amount|measured|finding|your result|your sample result|this sample|test result|"
    "ergebnis|messwert|befund|resultat|resultado|wert|valeur|valor|reported result|final result|"
    "concentration|"
    "result text|text result|numeric result|result numeric|num result|result num|"
    "formatted result|reportable result|result entry|value text|text value|numeric value|"
    "content|report value|sample result",
    "unit": "reported in|unit|unit code|units|unit of measure|"
    "uom|measured in|result unit|units of measure|"
    "einheit|unite|unidad|unidades|reporting unit|in units",
    "qualifier": "qualifier|qual|operator|modifier|less than|greater than|sign|prefix|"
    "result qualifier|data qualifier|lab qualifier|result flag|detect|detected|lt gt",
    "basis": "basis|on|reported as|on basis|reported basis|moisture basis|result basis|base|"
    "reporting basis|"
    "reported on basis|as|expressed on|expressed as|calculated on|stated on|given on|on a basis|"
    "stated as|dry or as received|dm or ar|ar or dm|ar dm|dm ar|as received or dry|"
    "basis code|basis cd|bas|report basis|basis text|basis desc|wet dry|dry wet|"
    "related to|relates to|refers to|referred to|in terms of|"
    "bezug|bezugsbasis|bezogen auf|rapporte a|referido a|expresado en|"
    "riferito a|expresado sobre|w przeliczeniu na|expresso em|exprime sur|rapporte au|udtrykt i|"
    "expressed in|reference basis|on what basis|dry or wet|wet or dry|based on",
}  # fmt: skip

#: A column or a row that holds no sample of this report.
_ASIDE: Final = re.compile(
    r"\b(?:typical|ave\.?|last yr|prior yr|prev yr|ly|averages?|avgs?\.?|"
    r"means?|median|std\.?|s\.?d\.?|stdev|standard deviation|"
    r"minimum|maximum|min\.?|max\.?|reference|ref\.? ?range|guidelines?|loq|lod|mdl|"
    r"(?:detection|reporting|quantitation) limits?|limits? of (?:detection|reporting|quant\w*)|"
    r"last (?:year|cut|cutting|crop|season|fall|spring|winter|summer|time|sample|test|report|"
    r"result|visit)|"
    r"(?:year|season) before|your last|earlier (?:sample|test|result)|"
    r"(?:same|ditto|idem)\b.*\b(?:19|20)\d\d|"
    r"(?:(?:19|20)\d\d(?:'s)?|past|reigning|former|overall|state|county|earlier) "
    r"(?:winner|champion|(?:first|best|top) (?:prize|entry|of show))s?|"
    r"previous|prior|prev\.?|histor(?:y|ical)|normal range|expected range|desired range|"
    r"benchmark|(?:book|table) (?:values?|figures?|averages?)|"
    r"published|uncertainty|rsd|repeatability|k ?= ?2|expanded|\+/-|recovery|c\.?v\.? ?%|"
    r"quality control|check sample|control sample|standard hay|count of|total samples|"
    r"percentile|quartile|n\s*=\s*\d+|proficiency|database|rel\.? error|std err|variance|"
    r"(?:usual|common|desired|good|fair|poor) (?:range|values?|levels?|hay)|usually|"
    r"(?:lbs?|pounds?|kg)\.? ?(?:/|per) ?(?:ton|tonne|bale|cow|day|head|acre)|"
    r"(?:our|your|my) (?:goals?|aims?)|goals? for|"
    r"end of (?:list|report|file|data|table|results?|run|listing|page)|"
    r"subtotal|recommended|requirements?|comparison|targets?|goal range|optimum range|"
    r"zielwerte?|richtwerte?|sollwerte?|normwerte?|mittelwert|valeurs? cibles?|valor objetivo|"
    r"valeurs? (?:rep[eè]res?|de r[eé]f[eé]rence|guides?|usuelles?|courantes?|normales?)|"
    r"valores (?:de referencia|normales|habituales|gu[ií]a)|referenzwerte?|orientierungswerte?|"
    r"moyennes?|promedio|durchschnitt|"
    r"suggested|acceptable|interpretation|guide (?:values?|levels?)|nrc|best ever|"
    r"(?:cows?|animal|herd|ewes?|horses?|dairy|beef|heifers?|calf|stock|nutrient) "
    r"(?:needs?|goals?|requirement))\b|\bgoals?$|\bc\.?v\.? ?%|±|\+/-|"
    r"^(?:goals?|aims?|ideals?)\s*[,:;(-]"
)
#: Words that say so only when they stand alone: "Upper field" and "Range 4" are names.
_ASIDE_ALONE: Final = frozenset(
    phrases(
        "upper|lower|range|ranges|error|change|spread|bar|chart|graph|rating|grade|flag|flags|"
        "book|check|goal|limit|limits|comment|comments|rank|total|totals|ideal|optimum|optimal|"
        "overall|summary|low|high|lowest|highest|least|most|best|worst|normal|expected|desired|desirable|difference|diff|cv|sem|rsd|"
        "lsd|sed|s e m|s.e.m|p value|p-value|p values|pr > f|significance|p-wert|"
        "precision|blank|qc|control|standard|low end|high end|lower limit|upper limit|status|"
        "evaluation|guide|level|desc|remark|remarks|adequacy|index class|class|score|quality|"
        "what it means|n|tolerance|usual|deviation|delta|state|county|region|all|samples|"
        "count"
    )
)
#: "Heu, gut", "Hay - poor": what a kind of feed usually holds in each class of quality.
_BY_CLASS: Final = re.compile(
    r"(?:(?:grass|legume|alfalfa|mixed|meadow|wiesen?|gras) ?)?(?:hay|haylage|silage|heu|"
    r"grassilage|foin|heno|feno|fieno|hooi|ho|siano)\s*[,:;(/–-]+\s*"
    r"(?:sehr |very |tres |muy |molto |zeer )?"
    r"(?:good|fair|medium|poor|premium|supreme|utility|gut|mittel|massig|schlecht|bon|moyen|"
    r"mediocre|mauvais|bueno|regular|malo|medio|buono|scarso|goed|matig|slecht|god|darlig|dalig|bra)\)?"
)
#: "Goal (DM)": a unit or a basis behind such a word.
_UNIT_BEHIND: Final = re.compile(r"\s*(?:[(\[](?P<unit>[^()\[\]]+)[)\]]|,\s*(?P<other>[^,]+))$")
#: Words of a name, where the laboratory has numbered it and another word stands behind them.
_IN_NAME: Final = re.compile(
    r"^(?:mean|min|max|target|reference|benchmark|normal|published|recovery|prior|previous)\b"
    r"(?= (?!(?:of|values?|ranges?|years?|yr|crops?|cut|cutting|seasons?|tests?|samples?|results?|"
    r"reports?|hay|analys[ei]s|fall|spring|winter|summer)\b|\d)[a-z])"
)
#: "Mean Creek", "Max Hollow": a word of statistics and a name of land behind it.
_NAMED_SO: Final = re.compile(
    r"(?:Mean|Min|Max)\.? (?!(?:Of|For|Values?|Ranges?|All|Hay|Alfalfa|Grass|Samples?|Results?|Dry|"
    r"As|Last|This|DM|CP|ADF|NDF|TDN|Moisture|Crude|Forage|Lot|Report|Test)\b)"
    r"[A-Z][a-z]{2,}(?: [A-Za-z]+)?"
)
#: Whose number or name it is says which of the two it is.
_OWNED: Final = {"our": {"number": "lab_no", "id": "lab_no"}, "your": {"number": "id"}}
#: Words of fields as they are cut short.
_SHORT: Final[Mapping[str, str]] = {
    "nbr": "no", "num": "no", "numb": "no", "smp": "sample", "smpl": "sample", "spl": "sample",
    "samp": "sample", "smpld": "sampled", "samp'd": "sampled", "rcvd": "received",
    "rec": "received", "rcv": "received", "recv": "received", "recvd": "received",
    "rptd": "reported", "rprtd": "reported", "laby": "lab", "dt": "date", "meth": "method",
    "cust": "customer", "cli": "client", "ident": "identification", "descr": "description",
    "desc": "description",
}  # fmt: skip
#: Where a word begins in the middle of another: "LabNo", "SampleDate".
_CAMEL: Final = re.compile(r"(?<=[a-z])(?=[A-Z])")
_YEARS: Final = re.compile(r"\b(?:19|20)\d\d\b")


@cache
def _by_label() -> dict[str, str]:
    return {
        " ".join(
            _SHORT.get(word, word) for word in tokens(label) if word not in ("the", "of", "s")
        ): name
        for name, labels in FIELDS.items()
        for label in labels.split("|")
    }


@cache
def _run_together() -> dict[str, str]:
    """Return labels of several words by these written as one: "LABNO", "sampleid"."""
    known = _by_label()
    joined = {"".join(label.split()): name for label, name in known.items() if " " in label}
    return {one: name for one, name in joined.items() if len(one) > 4 and one not in known}


@lru_cache(maxsize=65536)
def field_of(text: str) -> str:
    """Return which field a label names, or an empty string.

    Examples
    --------
    >>> field_of("Lab No."), field_of("Date taken:"), field_of("Client's sample ID")
    ('lab_no', 'sampled_on', 'id')
    """
    return _field_here(text) or field_abroad(text)


def _field_here(text: str) -> str:
    shown = plain(_CAMEL.sub(" ", text)).replace("#", " no ").replace("'s", "")
    words = tuple(
        _SHORT.get(word, word) for word in tokens(shown) if word not in ("the", "s", "of")
    )
    known = _by_label()
    whole = " ".join(words)
    if whole in known:
        return known[whole]
    if words and words[0] in ("our", "your"):
        owned = known.get(" ".join(words[1:]), "")
        return _OWNED[words[0]].get(owned, owned)
    bare = " ".join(
        word for word in words if word not in ("date", "mm", "dd", "yyyy", "yy", "m", "d", "y")
    )
    if "date" in words or "mm" in words:
        found = known.get(bare, "") if bare else ""
        return found if found.endswith("_on") else ""
    if len(words) == 1 and whole in _run_together():
        return _run_together()[whole]
    parts = [part for part in re.split(r"\s*[/|]\s*", shown) if part]
    if len(parts) > 1 and not re.search(r":\s*\S", shown):
        return next((name for name in map(field_of, parts) if name), "")
    inner = re.sub(r"\([^)]*\)", " ", shown)
    if inner != shown and inner.strip():
        return known.get(" ".join(tokens(inner)), "")
    return ""


@lru_cache(maxsize=65536)
def is_aside(text: str, numbered: bool = False) -> bool:
    """Return whether a heading or a row holds no sample: a mean, a range, last year's values.

    With ``numbered``, the laboratory has given it a number, and "Upper" is the name of a field.

    Examples
    --------
    >>> is_aside("Typical range"), is_aside("Average of 5"), is_aside("Ridge alfalfa")
    (True, True, False)
    >>> is_aside("Upper"), is_aside("Upper", numbered=True), is_aside("Mean Creek")
    (True, False, False)
    """
    shown = plain(text)
    told = _UNIT_BEHIND.search(shown)
    bare = shown[: told.start()] if told and is_only_unit(told["unit"] or told["other"]) else shown
    alone = not numbered and bare.strip(" .:()") in _ASIDE_ALONE
    if numbered or _NAMED_SO.match(text.strip()):
        shown = _IN_NAME.sub(" ", shown)
    bare = unaccented(bare).strip(" .:()")
    alone = alone or (not numbered and bare in ASIDE_ALONE_ABROAD)
    if alone or is_own_check(text) or (not numbered and _BY_CLASS.fullmatch(bare)):
        return True
    return bool(_ASIDE.search(shown) or ASIDE_ABROAD.search(unaccented(shown)))


def year_in(text: str) -> int | None:
    """Return a year that stands alone in a heading, or ``None``.

    Parameters
    ----------
    text : str
        The heading.

    Returns
    -------
    int or None
        The year.
    """
    shown = plain(text)
    found = _YEARS.search(shown)
    rest = _YEARS.sub(" ", shown)
    return int(found[0]) if found and not re.search(r"\d", rest) else None


_NIR: Final = re.compile(r"\bnirs?\b|near[- ]infra[- ]?red|infrared")
_WET: Final = re.compile(
    r"\bwet(?:[- ]?chem(?:istry|ical)?)?\b|\bwc\b|\bchemical\b|\breference chem"
)


def method_in(text: str) -> str:
    """Return the method that a text names: NIR, wet chemistry, both (mixed), or nothing.

    Parameters
    ----------
    text : str
        The text.

    Returns
    -------
    str
        ``NIR``, ``wet chemistry``, ``mixed`` or empty.

    Examples
    --------
    >>> method_in("by NIRS"), method_in("wet"), method_in("NIR, minerals by wet chemistry")
    ('NIR', 'wet chemistry', 'mixed')
    """
    shown = plain(text)
    nir, wet = bool(_NIR.search(shown)), bool(_WET.search(shown))
    if nir and wet:
        return "mixed"
    return "NIR" if nir else "wet chemistry" if wet else ""
