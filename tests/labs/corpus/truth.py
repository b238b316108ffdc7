"""What is printed in a file, kept while it is printed: samples, values, planted errors."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from .forage import MCAL_PER_LB, MJ_PER_MCAL, SHARES, Forage

ENERGIES = frozenset({"nem", "neg", "nel", "me", "de"})
PPM = frozenset(
    {"fe", "mn", "zn", "cu", "mo", "se", "co", "hcn", "nitrate", "nitrate_no3n", "nitrate_no3",
     "nitrate_kno3"}
)  # fmt: skip
INDICES = frozenset({"rfv", "rfq", "ph"})
MINERALS = frozenset({"ca", "p", "mg", "k", "s", "na", "cl"})
OUTSIDE = {("dm", "g_per_kg"), ("moisture", "g_per_kg")}


def factor(analyte: str, unit: str | None) -> float:
    """Return what turns the canonical unit of an analyte into another one."""
    if analyte in ENERGIES:
        per_cwt = 100 * MCAL_PER_LB
        return {
            "mcal_per_kg": 1.0, "mcal_per_lb": MCAL_PER_LB, "mj_per_kg": MJ_PER_MCAL,
            "mcal_per_cwt": per_cwt,
        }[unit or ""]  # fmt: skip
    if analyte in PPM:
        return {"ppm": 1.0, "pct": 1e-4, "ppb": 1e3}[unit or ""]
    return {"pct": 1.0, "g_per_kg": 10.0, "ppm": 1e4, None: 1.0}[unit]


def usual_unit(analyte: str) -> str | None:
    if analyte in INDICES:
        return None
    if analyte in ENERGIES:
        return "mcal_per_lb"
    return "ppm" if analyte in PPM else "pct"


def usual_basis(analyte: str) -> str | None:
    if analyte in INDICES:
        return None
    if analyte in ("dm", "moisture"):
        return "ar"
    if analyte in SHARES:
        return "cp" if analyte == "soluble_cp" else "ndf"
    return "dm"


def usual_places(analyte: str, unit: str | None) -> int:
    """Return the decimals that laboratories print."""
    if unit == "pct":
        return 3 if analyte.startswith("nitrate") else 2 if analyte in {*MINERALS, "n"} else 1
    if unit == "g_per_kg":
        return 1 if analyte in {*MINERALS, "n"} else 0
    if unit == "ppm":
        return {"cu": 1, "mo": 1, "se": 2, "co": 2}.get(analyte, 0)
    if unit in ("mcal_per_lb", "mcal_per_kg", "mj_per_kg"):
        return 2
    return {"mcal_per_cwt": 1, "ph": 2}.get(unit or analyte, 0)


def figure(number: float, places: int, comma: bool = False, group: str = "") -> str:
    """Return a number as text, with a decimal comma or a mark between thousands if wanted."""
    text = f"{number:,.{places}f}"
    return text.replace(",", "\0").replace(".", "," if comma else ".").replace("\0", group)


@dataclass
class Sample:
    """One sample as printed; ``put`` prints a value of its forage and keeps the truth of it."""

    forage: Forage
    id: str | None
    lab_no: str | None = None
    sampled_on: date | None = None
    received_on: date | None = None
    reported_on: date | None = None
    method: str | None = None
    species_printed: str | None = None
    more: dict[str, Any] = field(default_factory=dict)
    values: list[dict[str, Any]] = field(default_factory=list)
    optional: list[dict[str, Any]] = field(default_factory=list)
    planted: list[dict[str, Any]] = field(default_factory=list)
    ask: list[str] = field(default_factory=list)

    def put(
        self,
        analyte: str,
        unit: str | None = "usual",
        basis: str | None = "usual",
        *,
        places: int | None = None,
        comma: bool = False,
        group: str = "",
        times: float = 1.0,
        number: float | None = None,
        expect: str = "sure",
        **more: Any,
    ) -> str:
        """Print a value and keep it; ``times`` and ``number`` are for planted errors."""
        unit = usual_unit(analyte) if unit == "usual" else unit
        basis = usual_basis(analyte) if basis == "usual" else basis
        decimals = usual_places(analyte, unit) if places is None else places
        if number is None:
            number = self.forage.value(analyte, basis) * factor(analyte, unit) * times
        text = figure(number, decimals, comma, group)
        plain = text.replace(group, "") if group else text
        flags = list(more.pop("flags", ()))
        if (analyte, unit) in OUTSIDE or unit == "mcal_per_cwt":
            flags.append("unit-not-in-vocabulary")
            expect = "any" if expect == "sure" else expect
        value = float(plain.replace(",", ".") if comma else plain)
        self._keep(analyte, text, value, "=", unit, basis, expect, flags, more)
        return text

    def below(self, analyte: str, limit: str, sign: str = "<", **at: Any) -> str:
        """Print a limit, as ``<0.05`` or ``< 100``."""
        unit, basis = self._at(analyte, at)
        self._keep(analyte, sign + limit, float(limit.replace(",", ".")), sign.strip(), unit,
                   basis, "sure", ["below"], at)  # fmt: skip
        return sign + limit

    def nothing(self, analyte: str, text: str, op: str = "none", **at: Any) -> str:
        """Print what stands where there is no number: ND, TNTC, n/a, a dash."""
        unit, basis = self._at(analyte, at)
        expect = "absent" if op == "none" else "sure"
        flags = [] if op == "none" else [op]
        self._keep(analyte, text, None, op, unit, basis, expect, flags, at)
        return text

    def plant(self, kind: str, analytes: tuple[str, ...], what: str, touches: str = "") -> None:
        """Mark values as an error of the laboratory, so that asking about them is right.

        ``touches`` names values that are right, but that a check may fairly name with them.
        """
        self.planted.append({"kind": kind, "analytes": list(analytes), "what": what})
        for value in self.values:
            if value["analyte"] in (*analytes, *touches.split()) and value["expect"] == "sure":
                value["expect"] = "any"
                value["flags"].append("planted")

    def each(self, analytes: str, expect: str, why: str) -> None:
        """Change what is expected of the values of some analytes."""
        for value in self.values:
            if value["analyte"] in analytes.split():
                value["expect"], value["why"] = expect, why

    def _at(self, analyte: str, at: dict[str, Any]) -> tuple[str | None, str | None]:
        return at.pop("unit", usual_unit(analyte)), at.pop("basis", usual_basis(analyte))

    def _keep(
        self,
        analyte: str,
        printed: str,
        value: float | None,
        op: str,
        unit: str | None,
        basis: str | None,
        expect: str,
        flags: list[str],
        more: dict[str, Any],
    ) -> None:
        kept = {"analyte": analyte, "printed": printed, "value": value, "op": op, "unit": unit,
                "basis": basis, "expect": expect, "flags": flags, **more}  # fmt: skip
        self.values.append(kept)

    def as_truth(self, key: int) -> dict[str, Any]:
        """Return the sample as the truth file keeps it."""
        days = {
            name: day.isoformat() if day else None
            for name, day in (
                ("sampled_on", self.sampled_on),
                ("received_on", self.received_on),
                ("reported_on", self.reported_on),
            )
        }
        return {
            "key": key, "id": self.id, "lab_no": self.lab_no, **days, "method": self.method,
            "species_printed": self.species_printed, "values": self.values,
            "optional": self.optional, "planted": self.planted, "ask": self.ask,
            "true_forage": self.forage.kind, **self.more,
        }  # fmt: skip


@dataclass
class Made:
    """A file and its truth."""

    name: str
    content: bytes
    truth: dict[str, Any]


def made(
    name: str,
    content: bytes,
    layout: str,
    lab: str,
    samples: list[Sample],
    expect_file: str = "read",
    **more: Any,
) -> Made:
    """Put the truth of a file together."""
    truth: dict[str, Any] = {"file": name, "layout": layout, "lab": lab}
    truth |= {"expect_file": expect_file}
    truth["samples"] = [one.as_truth(key) for key, one in enumerate(samples, 1)]
    truth |= {"ambiguous": [], "not_samples": [], "not_ours": []} | more
    return Made(name, content, truth)
