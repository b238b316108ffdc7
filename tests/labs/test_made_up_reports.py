"""The made-up reports: enough of them, believable, and with a truth that is true."""

import re
import zipfile
from collections import Counter
from functools import cache
from io import BytesIO
from random import Random

import pypdfium2
import pytest
from corpus.open_odd import bomb
from corpus.sets import SETS, each

from rickyard.folder.tables import ANALYTES

SPECS = {spec.name: spec for spec in ANALYTES}
BOTH = ("open", "kept")


@cache
def files(of):
    return list(each(of))


def samples(of):
    return [(one.name, sample) for one in files(of) for sample in one.truth["samples"]]


def values(of):
    return [(name, value) for name, sample in samples(of) for value in sample["values"]]


def text_of(content):
    """Return what a file prints, read by other means than it was written with."""
    if content.startswith(b"%PDF"):
        pages = pypdfium2.PdfDocument(content)
        return "\n".join(page.get_textpage().get_text_range() for page in pages)
    if content.startswith(b"PK"):
        with zipfile.ZipFile(BytesIO(content)) as archive:
            parts = [archive.read(name).decode() for name in archive.namelist() if "xml" in name]
        return " ".join(re.sub(r"<[^>]*?(?:value=\"([^\"]*)\")?[^>]*>", r" \1 ", x) for x in parts)
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252")


@pytest.mark.parametrize("of", BOTH)
def test_a_set_is_large(of):
    assert len(files(of)) >= 33
    assert len(SETS[of]) >= 17
    assert len({one.name for one in files(of)}) == len(files(of))


def test_the_sets_share_neither_layout_nor_laboratory():
    names = [{layout.__name__ for layout, _ in SETS[of]} for of in BOTH]
    labs = [{one.truth["lab"] for one in files(of)} - {"none (invented)"} for of in BOTH]
    assert not names[0] & names[1]
    assert not labs[0] & labs[1]
    assert not {one.name for one in files("open")} & {one.name for one in files("kept")}


@pytest.mark.parametrize("of", BOTH)
def test_a_seed_always_makes_the_same_files(of):
    before = {one.name: one for one in files(of)}
    for layout, _ in SETS[of]:
        if layout is not bomb:
            again = layout(Random(f"1 {of} {layout.__name__} 1"), 1)
            assert again.content == before[again.name].content, again.name
            assert again.truth == before[again.name].truth, again.name


@pytest.mark.parametrize("of", BOTH)
def test_the_truth_speaks_the_vocabulary(of):
    for name, value in values(of):
        spec = SPECS[value["analyte"]]
        if "unit-not-in-vocabulary" not in value["flags"]:
            assert value["unit"] in (spec.units or (None,)), (name, value)
        unasked = value["expect"] != "ask"
        assert value["basis"] in (spec.bases or (None,)) or not unasked, (name, value)


@pytest.mark.parametrize("of", BOTH)
def test_what_the_truth_holds_is_printed(of):
    for one in files(of):
        old_book = one.content.startswith(b"\xd0")
        if one.truth["expect_file"] == "refuse" or old_book:
            continue
        text = text_of(one.content)
        joined = " ".join(text.replace("\ufb01", "fi").split())
        numbers = Counter(re.findall(r"\d+(?:[.,]\d+)*", joined))
        for sample in one.truth["samples"]:
            for key in ("id", "lab_no"):
                held = (sample[key] or "").replace("\u00a0", " ")
                assert held in joined or escaped(held) in joined, (one.name, held)
        if not one.content.startswith(b"PK"):
            held = [v["printed"] for s in one.truth["samples"] for v in s["values"]]
            for printed, count in Counter(held).items():
                assert joined.count(" ".join(printed.split())) >= count, (one.name, printed)
        else:
            floats = Counter(round(float(text), 6) for text in numbers.elements() if plain(text))
            for sample in one.truth["samples"]:
                for value in sample["values"]:
                    wanted = value["value"]
                    assert wanted is None or round(wanted, 6) in floats, (one.name, value)


def plain(text):
    return re.fullmatch(r"\d+(\.\d+)?", text) is not None


def escaped(text):
    return text.replace("&", "&amp;").replace('"', "&quot;")


@pytest.mark.parametrize("of", BOTH)
def test_the_value_is_what_the_print_says(of):
    for name, value in values(of):
        printed = value["printed"].lstrip("<> ")
        if value["value"] is None:
            assert value["op"] in ("nd", "tntc", "none")
            continue
        spaced = printed.replace("\u00a0", " ")
        commas = printed.count(",") == 1 and not re.fullmatch(r"\d{1,3},\d{3}", printed)
        number = spaced.replace(" ", "").replace(",", "." if commas else "")
        assert float(number) == pytest.approx(value["value"]), (name, value)


def half_step(printed):
    return 0.5 * 10 ** -len(re.split(r"[.,]", printed)[1] if re.search(r"[.,]", printed) else "")


@pytest.mark.parametrize("of", BOTH)
def test_both_bases_belong_together_unless_an_error_is_planted(of):
    pairs = 0
    for name, sample in samples(of):
        if sample["planted"]:
            continue
        by = {(v["analyte"], v["basis"]): v for v in sample["values"] if v["op"] == "="}
        dry = by.get(("dm", "ar"))
        wet = by.get(("moisture", "ar"))
        if dry and wet:
            assert dry["value"] + wet["value"] == pytest.approx(100, abs=0.11), name
        if not (dry or wet):
            continue
        share = (dry["value"] if dry else 100 - wet["value"]) / 100
        for analyte in {analyte for analyte, _ in by}:
            ours, theirs = by.get((analyte, "ar")), by.get((analyte, "dm"))
            if ours and theirs:
                pairs += 1
                room = half_step(ours["printed"]) + half_step(theirs["printed"]) * share
                room += 0.0005 * theirs["value"] + 1e-9
                off = abs(ours["value"] - theirs["value"] * share)
                assert off <= room, (name, sample["id"], analyte)
    assert pairs > 50


@pytest.mark.parametrize("of", BOTH)
def test_planted_errors_name_values_that_may_be_asked_about(of):
    planted = [sample for _, sample in samples(of) if sample["planted"]]
    assert len(planted) >= 6
    for sample in planted:
        for error in sample["planted"]:
            held = [v for v in sample["values"] if v["analyte"] in error["analytes"]]
            assert {v["analyte"] for v in held} == set(error["analytes"])
            assert all(v["expect"] == "any" and "planted" in v["flags"] for v in held)


@pytest.mark.parametrize("of", BOTH)
def test_what_must_be_asked_is_not_decided_in_the_truth(of):
    asked = 0
    for _, sample in samples(of):
        assert all(sample[key] is None for key in sample["ask"])
        for value in sample["values"]:
            if value["expect"] == "ask":
                asked += 1
                assert value["basis"] is None
                assert value["why"]
    assert asked > 10


@pytest.mark.parametrize("of", BOTH)
def test_files_to_be_refused_hold_no_sample(of):
    refused = [one for one in files(of) if one.truth["expect_file"] == "refuse"]
    assert len(refused) >= 5
    assert all(not one.truth["samples"] for one in refused)
    rest = [one for one in files(of) if one.truth["expect_file"] != "refuse"]
    assert all(one.truth["samples"] for one in rest)
