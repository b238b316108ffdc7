"""What the cells of one row of ``lots.csv`` must be to each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from rickyard.farm import Forage, Package
from rickyard.folder import tables
from rickyard.folder.rules.rules_ids import order_faults
from rickyard.quantities import KG_M3_PER_LB_FT3

WEIGHT_OF_PACKAGE: Final[dict[Package, tables.ColumnLimit]] = {
    Package.ROUND: tables.limits.ROUND_WEIGHT,
    Package.LARGE_SQUARE: tables.limits.LARGE_SQUARE_WEIGHT,
    Package.SMALL_SQUARE: tables.limits.SMALL_SQUARE_WEIGHT,
    Package.BALEAGE: tables.limits.BALEAGE_WEIGHT,
    Package.LOOSE: tables.limits.LOAD_WEIGHT,
}

_ROUND: Final = ("bale_diameter_m", "bale_width_m")
_SQUARE: Final = ("bale_length_m", "bale_width_m", "bale_height_m")

#: Which sizes stand in for a weight that is not known; any one of the sets is enough.
SIZES_OF_PACKAGE: Final[dict[Package, tuple[tuple[str, ...], ...]]] = {
    Package.ROUND: (_ROUND,),
    Package.LARGE_SQUARE: (_SQUARE,),
    Package.SMALL_SQUARE: (_SQUARE,),
    Package.BALEAGE: (_ROUND, _SQUARE),
    Package.LOOSE: (),
}

_SIZE_WORDS: Final[dict[Package, str]] = {
    Package.ROUND: ", or both bale_diameter and bale_width",
    Package.LARGE_SQUARE: ", or bale_length, bale_width and bale_height",
    Package.SMALL_SQUARE: ", or bale_length, bale_width and bale_height",
    Package.BALEAGE: ", or bale_diameter and bale_width, or length, width and height",
    Package.LOOSE: " of one load",
}


def lot_faults(row: tables.TableRow) -> Iterator[tables.Fault]:
    """Yield what is wrong between the cells of a lot."""
    yield from order_faults(row)
    weight_faults = list(_weight_faults(row))
    yield from weight_faults
    yield from _size_faults(row)
    if not weight_faults:
        yield from _density_faults(row)
    yield from _moisture_faults(row)
    yield from _heat_faults(row)


def _heat_faults(row: tables.TableRow) -> Iterator[tables.Fault]:
    """Yield a later reading without the hottest: nobody would be kept off what was hot."""
    cells = row.cells
    if "latest_temperature_c" in cells and "highest_temperature_c" not in cells and row.sure:
        yield row.missing(
            "highest_temperature_c",
            "how hot it was is not known, though it was read again later.",
            "Write the hottest reading there, and what was read later in latest_temperature.",
            "a temperature",
        )


def lot_questions(row: tables.TableRow) -> Iterator[tables.Fault]:
    """Yield what is possible but worth a second look."""
    diameter, width = row.get("bale_diameter_m"), row.get("bale_width_m")
    if diameter and width and diameter < width / 2.0:
        yield row.fault(
            "bale_diameter_m",
            f'"{row.text("bale_diameter_m")}" is less than half the width.',
            "Are width and diameter the wrong way round?",
        )
    density = _density(row)
    if density is not None and _is_dry_package(row):
        low, high = tables.limits.DENSITY_USUAL_MOST_KG_M3, tables.limits.DENSITY_DRY_MOST_KG_M3
        if low < density <= high:
            yield row.fault(
                "bale_weight_kg",
                f'"{row.text("bale_weight_kg")}" makes {_lb_ft3(density)}, denser than most hay.',
                "Is the weight from a scale, and the size right?",
            )
    yield from _moisture_questions(row)


def _weight_faults(row: tables.TableRow) -> Iterator[tables.Fault]:
    package = row.get("package")
    if package is not None and row.get("bale_weight_kg") is not None:
        yield from narrower(row, "bale_weight_kg", WEIGHT_OF_PACKAGE[package])
    if row.get("bale_width_m") is not None and _is_round(row):
        yield from narrower(row, "bale_width_m", tables.limits.ROUND_SIZE)


def narrower(row: tables.TableRow, name: str, limit: tables.ColumnLimit) -> Iterator[tables.Fault]:
    """Yield a fault if a field lies outside a limit that holds for this kind of row."""
    filled = row.cells[name]
    column = filled.place.column
    assert column is not None  # a filled field has its column
    number, unit = tables.read_number(column, filled.place.unit, filled.text)
    try:
        tables.check_limit(column, limit, row.values[name], number, unit, filled.text)
    except tables.CellError as error:
        yield row.fault(name, error.problem, error.suggestion, error.expected)


def _size_faults(row: tables.TableRow) -> Iterator[tables.Fault]:
    package = row.get("package")
    if package is None or "bale_weight_kg" in row.cells or not row.sure:
        return
    for fields in SIZES_OF_PACKAGE[package]:
        if all(name in row.cells for name in fields):
            return
    yield row.missing(
        "bale_weight_kg",
        f"neither the weight nor the size of a {package.value} bale is known."
        if package is not Package.LOOSE
        else "the weight of a load is not known.",
        f"Write the bale weight{_SIZE_WORDS[package]}.",
        "a weight",
    )


def _is_round(row: tables.TableRow) -> bool:
    package = row.get("package")
    return package is Package.ROUND or (
        package is Package.BALEAGE and row.get("bale_diameter_m") is not None
    )


def _is_dry_package(row: tables.TableRow) -> bool:
    package = row.get("package")
    return (
        package is not None
        and package is not Package.BALEAGE
        and row.get("forage") is not Forage.CORN_SILAGE
    )


def _density(row: tables.TableRow) -> float | None:
    """Return the density as fed. [kg/m3]."""
    weight = row.get("bale_weight_kg")
    names = _ROUND if _is_round(row) else _SQUARE
    sizes = [row.get(name) for name in names]
    if not weight or not all(sizes) or row.get("package") in (None, Package.LOOSE):
        return None
    share = math.pi / 4.0 if names is _ROUND else 1.0
    if names is _ROUND:
        sizes = [sizes[0], *sizes]
    return float(weight / (share * math.prod(sizes)))


def _lb_ft3(density_kg_m3: float) -> str:
    return f"{density_kg_m3 / KG_M3_PER_LB_FT3:.1f} lb/ft3"


def _density_faults(row: tables.TableRow) -> Iterator[tables.Fault]:
    density = _density(row)
    if density is None:
        return
    dry = _is_dry_package(row)
    most = tables.limits.DENSITY_DRY_MOST_KG_M3 if dry else tables.limits.DENSITY_WET_MOST_KG_M3
    if tables.limits.DENSITY_LEAST_KG_M3 <= density <= most:
        return
    word = "looser than a bale holds together" if density < most else "denser than hay can be"
    yield row.fault(
        "bale_weight_kg",
        f'"{row.text("bale_weight_kg")}" makes {_lb_ft3(density)} at this size, {word}.',
        "Check the weight, the size and their units; go by a weigh ticket.",
        f"{_lb_ft3(tables.limits.DENSITY_LEAST_KG_M3)} to {_lb_ft3(most)}",
    )


def _wet(row: tables.TableRow, most_moisture: float) -> str:
    """Say that the hay is wetter than this, in the words of the cell."""
    if row.cells["dm_pct"].place.header.casefold().startswith("moisture"):
        return f'"{row.text("dm_pct")}" is over {most_moisture:g}% moisture'
    return f'"{row.text("dm_pct")}" is under {100.0 - most_moisture:g}% dry matter'


def _moisture_faults(row: tables.TableRow) -> Iterator[tables.Fault]:
    dm = row.get("dm_pct")
    if dm is None or row.get("package") is None or row.get("forage") is Forage.CORN_SILAGE:
        return
    dry = _is_dry_package(row)
    least = tables.limits.DRY_HAY_LEAST_DM_PCT if dry else tables.limits.WET_LEAST_DM_PCT
    if dm >= least:
        return
    swapped = tables.plain_number(round(100.0 - dm, 6))
    if row.cells["dm_pct"].place.header.casefold().startswith("moisture"):
        meant = f"If {row.text('dm_pct')} is the dry matter, write it under dm_pct."
    else:
        meant = f"Did you mean {swapped}?"
    wrapped = " If the bales are wrapped wet, write baleage under package." if dry else ""
    yield row.fault(
        "dm_pct",
        f"{_wet(row, 100.0 - least)}, too wet for {'dry hay' if dry else 'baleage'}.",
        f"{meant}{wrapped}",
        f"{least:g}% dry matter or more",
    )


def _moisture_questions(row: tables.TableRow) -> Iterator[tables.Fault]:
    dm = row.get("dm_pct")
    if dm is None or row.get("package") is None or row.get("forage") is Forage.CORN_SILAGE:
        return
    usual = tables.limits.DRY_HAY_USUAL_LEAST_DM_PCT
    if _is_dry_package(row):
        if tables.limits.DRY_HAY_LEAST_DM_PCT <= dm < usual:
            yield row.fault(
                "dm_pct",
                f"{_wet(row, 100.0 - usual)}, wet enough to heat and mold.",
                "Is it wet hay or baleage? Probe its temperature before it goes into a barn.",
            )
    elif dm > usual:
        yield row.fault(
            "dm_pct",
            f'"{row.text("dm_pct")}" makes {tables.plain_number(round(dm, 6))}% dry matter, '
            "dry for baleage.",
            "Is it dry hay under wrap, or the moisture?",
        )
