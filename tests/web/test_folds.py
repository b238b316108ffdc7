"""What folds on a phone and what never does, and that a page reads without its style sheet."""

from django.template import Context, Engine

from rickyard.farm import Package, Storage
from rickyard.hay.sampling.probing import probing_of
from rickyard.sheets.wording import plain_test
from rickyard.web.drawn import ear_tag, flag, mark
from rickyard.web.drawn.flags import Flag
from rickyard.web.serving.application import STATIC
from rickyard.web.shown.care import CareBox

SAYS = "Open bales heat within days. Call a veterinarian if stock go weak."


def drawn(css: str, sentence: str) -> str:
    """Return one caution as pages show it."""
    box = CareBox(css, mark("warning"), "Warning: Rye", sentence, "A source", "key")
    pages = Engine(dirs=[str(STATIC.parent / "templates")])
    return str(pages.get_template("care.html").render(Context({"boxes": (box,)})))


def test_a_danger_stands_whole_and_a_warning_keeps_its_first_sentence() -> None:
    danger = drawn("care", SAYS)
    assert "<details" not in danger
    assert f"<p>{SAYS}</p>" in danger
    first, rest = SAYS.split(". ")
    # Open on a wide window and on paper, as it sends to a veterinarian; folded on a phone.
    warning = drawn("care warn", SAYS)
    assert f'<details class="fold deep"><summary>{first}.</summary><p>{rest}</p>' in warning
    quiet = drawn("care warn", "Its ash is high. Mow higher.")
    assert '<details class="fold"><summary>Its ash is high.</summary>' in quiet
    assert "<details" not in drawn("care note", SAYS)


def test_marks_have_a_size_where_no_style_sheet_came() -> None:
    signs = (mark("danger"), flag(Flag("blue", "notched", 2)), ear_tag(62, "Cows"))
    assert all('width="' in one and 'height="' in one for one in signs)


def test_whoever_cores_bales_is_not_told_of_the_face_of_a_silo() -> None:
    bales = probing_of(Package.SMALL_SQUARE, Storage.ENCLOSED_BARN)
    assert not any("silage face" in one for one in bales.cautions)
    pit = probing_of(Package.LOOSE, Storage.ENCLOSED_BARN, silage=True)
    assert pit.cautions[:-1] == bales.cautions
    assert "silage face" in pit.cautions[-1]


def test_net_energies_are_written_as_laboratories_write_them() -> None:
    assert [plain_test(one) for one in ("nem", "neg", "nel")] == ["NEm", "NEg", "NEl"]


def test_the_unit_of_a_line_of_the_week_stands_apart_from_its_name() -> None:
    text = (STATIC.parent / "templates" / "week.html").read_text("utf-8")
    assert "</span> <small>{{ line.unit }}</small>" in text
    assert "Fed <small>by whom</small>" in text
