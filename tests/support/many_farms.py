"""A folder of three small farms: one supplied, one with a deadly hay, one short of hay."""

from __future__ import annotations

from pathlib import Path

from support.farm_folders import GOOD, edited, write_texts

_SUDAN = (
    "S9,Drought sudan,summer_annual,sudangrass,round,covered_elevated,net,20,1050,60,60,,,"
    "14,Low,1,2025-08-02,2025-11-01,60,no,\n"
)
_DEADLY = "R9,S9,2025-10-20,2025-10-28,County lab,1009,NIR,20,88.2,9.0,38.0,62.0,55.0,4200,wet\n"


def named(name: str, **changed: str) -> dict[str, str | bytes]:
    """Return the texts of a farm of another name, planned by four weeks, some files changed."""
    texts: dict[str, str | bytes] = {**GOOD}
    texts["farm.toml"] = edited("farm.toml", "Hill farm", name).replace(
        "period_days = 7", "period_days = 28"
    )
    texts.pop("wishes.csv")
    texts.pop("needs.csv")
    return {**texts, **{f"{file}.csv": text for file, text in changed.items()}}


def office(place: Path) -> Path:
    """Write the three farms into a folder."""
    herd = GOOD["groups.csv"].replace("cow,60,", "cow,20,")
    herd = herd.replace("heifer,12,", "heifer,4,").replace("stocker,30,", "stocker,4,")
    lots = GOOD["lots.csv"].splitlines(keepends=True)
    thin = "".join((*lots[:2], lots[2]))
    reports = GOOD["reports.csv"]
    plain = {"fed": "day,source,group,bales,mass_lb,note\n"}
    write_texts(place / "ash", named("Ash farm", groups=herd, **plain))
    write_texts(
        place / "brook",
        named(
            "Brook farm",
            groups=herd,
            lots=GOOD["lots.csv"] + _SUDAN,
            reports=reports + _DEADLY,
            **plain,
        ),
    )
    few = thin.replace(",120,", ",9,").replace(",80,", ",6,")
    write_texts(place / "thin", named("Thin farm", lots=few, groups=herd, **plain))
    (place / "notes").mkdir()
    (place / "list.txt").write_text("not a farm\n", encoding="utf-8")
    return place
