"""A second look at every day of the list that the helper feeds from, written apart.

Nothing of the program is used but the farm's plain objects: limits, steps and classes stand here
again, as their sources print them, and the days come from the plan as JSON has it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

from rickyard.farm import Farm, Feed, FeedKind, Group, Lot, Package

LB = 0.45359237

HORSES = {"horse", "mare", "young_horse", "donkey", "mule"}
SHEEP = {"ewe", "ewe_lamb", "ram", "feeder_lamb"}
GOATS = {"doe", "kid", "buck"}
CAMELIDS = {"llama", "alpaca"}
FEMALES = {
    "cow", "first_calf_heifer", "bred_heifer", "replacement_heifer", "ewe", "ewe_lamb", "doe",
    "mare", "horse", "donkey", "dairy_heifer", "dry_dairy_cow", "llama", "alpaca",
}  # fmt: skip
CARRIED = {"ewe": 147, "ewe_lamb": 147, "doe": 150, "mare": 340, "horse": 340, "donkey": 340}

#: Words of plants that gather nitrate (extension advice on nitrate).
GATHERERS = ("sorghum", "sudan", "millet", "milo", "corn", "oat", "rye", "wheat", "barley",
             "triticale", "small grain", "johnson")  # fmt: skip
SORGHUMS = ("sorghum", "sudan", "milo", "johnson", "shattercane", "sudex")
NEAR = 1e-6

#: Hay above it is begun low for stock in calf, Nebraska G1779. [ppm]
BEGUN_LOW_PPM = 700.0

#: Beginnings of the rules by which it is told that a change leaves a group less than its fill.
CHANGES = ("nitrate-", "hcn-half", "grain-step", "urea-step")


def kg_dm(mass: float, dm_pct: float) -> float:
    return mass * dm_pct / 100.0


@dataclass
class Day:
    """What one group is put out, or has before it, on one day: dry matter by source. [kg]."""

    put_out: dict[str, float] = field(default_factory=lambda: defaultdict(float))

    def total(self) -> float:
        return sum(self.put_out.values())


class DailyAudit:
    """The days of a plan, group by group."""

    def __init__(self, plan: dict[str, Any], farm: Farm) -> None:
        self.plan, self.farm = plan, farm
        self.dm = {one["source"]: one["dm_pct"] for one in plan["sources"]}
        self.lots = {lot.lot_id: lot for lot in farm.lots}
        self.feeds = {feed.feed_id: feed for feed in farm.feeds}
        self.first = date.fromisoformat(plan["season"]["start"])
        self.last = date.fromisoformat(plan["season"]["end"])

    def breaches(self) -> list[str]:
        found = []
        for group in self.farm.groups:
            days = self._days(group)
            for check in (self._kept, self._shares, self._climbs, self._begins, self._forage,
                          self._beside_safe, self._sum_of_nitrate, self._full, self._apart,
                          self._no_fall, self._drunk, self._calcium, self._all_grain,
                          self._in_one_night, self._as_one, self._other_hay,
                          self._mixed_by_day, self._on_its_day, self._never_empty):  # fmt: skip
                found += [f"{group.group_id}: {one}" for one in check(group, days)]
        return found + list(self._rules_kept())

    # what is there on each day

    def _days(self, group: Group) -> dict[date, Day]:
        days: dict[date, Day] = defaultdict(Day)
        for one in self.plan["deliveries"]:
            if one["group"] != group.group_id:
                continue
            first, count = date.fromisoformat(one["day"]), max(1, one["for_days"])
            for number in range(count):
                day = first + timedelta(days=number)
                mass = kg_dm(one["mass_kg"], self.dm[one["source"]]) / count
                days[day].put_out[one["source"]] += mass
        for row in self.plan["feeding"]:
            feed = self.feeds.get(row["source"])
            grazed = feed is not None and feed.kind is FeedKind.GRAZING
            if row["group"] == group.group_id and grazed:
                for day in self._present(group, row["start"], row["days"]):
                    mass = row["eaten_kg_dm_per_head_day"] * group.head
                    days[day].put_out[row["source"]] += mass
        return days

    def _present(self, group: Group, start: str, count: int) -> Iterator[date]:
        for number in range(count):
            day = date.fromisoformat(start) + timedelta(days=number)
            late = group.to_on is not None and day >= group.to_on
            if not late and not (group.from_on is not None and day < group.from_on):
                yield day

    def _grazed(self, source: str) -> bool:
        return source in self.feeds and self.feeds[source].kind is FeedKind.GRAZING

    def _is_forage(self, source: str) -> bool:
        feed = self.feeds.get(source)
        return feed is None or feed.kind in (FeedKind.FORAGE, FeedKind.GRAZING)

    def _value(self, lot: Lot, name: str) -> float | None:
        for report in self.farm.reports_of(lot.lot_id):
            found = report.get(name)
            if found is not None and found.value is not None:
                return found.value / 1000.0 if found.unit == "ppb" else found.value
        return None

    # who must have none

    def _kept(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        for day, here in sorted(days.items()):
            for source, mass in here.put_out.items():
                why = self._why_none(group, source, day) if mass > NEAR else ""
                if why:
                    yield f"{day} {source}: {why}"
                    return

    def _why_none(self, group: Group, source: str, day: date) -> str:
        kind = group.animal_class.value
        if source in self.feeds:
            return self._why_no_feed(group, self.feeds[source])
        lot = self.lots[source]
        if kind in HORSES:
            if lot.package is Package.BALEAGE:
                return "baleage to horses"
            if any(word in lot.species.lower() for word in SORGHUMS):
                return "sorghum to horses"
            mold = self._value(lot, "mold")
            if mold is not None and mold > 500_000.0:
                return "moldy hay to horses"
        elif self._nitrate_share(group, source) <= 0.0:
            return "nitrate"
        return self._why_no_wet(group, lot) or self._why_no_fescue(group, lot, day)

    def _why_no_wet(self, group: Group, lot: Lot) -> str:
        kind, ph = group.animal_class.value, self._value(lot, "ph")
        if kind in SHEEP | GOATS and lot.package is Package.BALEAGE and ph and ph > 5.0:
            return "baleage above pH 5"
        hcn = self._value(lot, "hcn")
        if hcn is not None and hcn > 1000.0:
            return "prussic acid"
        return ""

    def _why_no_fescue(self, group: Group, lot: Lot, day: date) -> str:
        text = f"{lot.species} {lot.name}".lower()
        carries = group.animal_class.value in ("mare", "horse", "donkey")
        if carries and "fescue" in text and "free" not in text:
            toxin = self._value(lot, "ergovaline")
            if toxin != 0.0 and self._before_birth(group, day, 90):
                return "fescue before foaling"
        return ""

    def _why_no_feed(self, group: Group, feed: Feed) -> str:
        kind, text = group.animal_class.value, f"{feed.name} {feed.table_id}".lower()
        if kind in HORSES and (feed.npn_cp_pct or feed.ionophore or "cottonseed" in text):
            return "urea, ionophore or cottonseed to horses"
        if kind in ("donkey", "mule") and feed.kind is FeedKind.GRAIN:
            return "grain to donkeys"
        if kind in SHEEP and feed.copper_ppm is not None and feed.copper_ppm > 15.0:
            return "copper to sheep"
        if kind in SHEEP | GOATS | CAMELIDS and feed.npn_cp_pct:
            return "urea to small stock"
        return ""

    def _births(self, group: Group) -> list[date]:
        kind = group.animal_class.value
        if kind not in FEMALES:
            return []
        days = [group.calving_on] if group.calving_on else []
        if group.breeding_on:
            carried = CARRIED.get(kind, 350 if kind in CAMELIDS else 280)
            days.append(group.breeding_on + timedelta(days=carried))
        return [day + timedelta(days=365 * years) for day in days for years in (0, 1)]

    def _before_birth(self, group: Group, day: date, days: int) -> bool:
        return any(0 <= (birth - day).days <= days for birth in self._births(group))

    def _pregnant(self, group: Group) -> bool:
        if group.animal_class.value == "dry_dairy_cow":
            return True
        carried = CARRIED.get(group.animal_class.value, 280)
        half = timedelta(days=(group.calving_spread_days or 0) // 2)
        return any(
            birth - timedelta(days=carried) - half < self.last and self.first < birth + half
            for birth in self._births(group)
        )

    # shares, day by day

    def _nitrate_share(self, group: Group, source: str) -> float:
        """Return the largest share of the dry matter, Clemson; ServiTech if pregnant."""
        if group.animal_class.value in HORSES:
            return 1.0
        known, gathers, stressed = self._nitrate(source)
        pregnant = self._pregnant(group)
        if known is None:
            if not gathers:
                return 1.0
            return 0.0 if pregnant or stressed else 0.25
        bands = ((4000.0, 0.0), (3500.0, 0.25), (2000.0, 0.4), (1500.0, 0.5))
        if pregnant:
            bands = ((2000.0, 0.0), (1400.0, 0.25), (1000.0, 0.5))  # type: ignore[assignment]
        return next((share for over, share in bands if known > over), 1.0)

    def _nitrate(self, source: str) -> tuple[float | None, bool, bool]:
        """Return what is known of it, whether it gathers nitrate, and whether it was stressed."""
        if source in self.feeds:
            return self.feeds[source].nitrate_no3n_ppm, False, False
        lot = self.lots[source]
        known = self._value(lot, "nitrate_no3n")
        no3, kno3 = self._value(lot, "nitrate_no3"), self._value(lot, "nitrate_kno3")
        if known is None and no3 is not None:
            known = 0.2259 * no3
        if known is None and kno3 is not None:
            known = 1385.0 * kno3
        gathers = lot.forage.value in ("summer_annual", "small_grain", "corn_silage")
        gathers = gathers or any(word in lot.species.lower() for word in GATHERERS)
        gathers = gathers and "ryegrass" not in lot.species.lower()
        stressed = bool(lot.drought or lot.heavy_nitrogen or lot.frosted)
        return known, gathers, stressed

    def _limited(self, group: Group, days: dict[date, Day]) -> dict[str, float]:
        fed = {source for here in days.values() for source in here.put_out}
        shares = {one: self._nitrate_share(group, one) for one in fed}
        return {one: share for one, share in shares.items() if share < 1.0}

    def _shares(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold what is eaten of hay with nitrate on each day to its share, all of a share as one.

        A share of the week is no comfort to who ate it on one day. Nothing says that what is mixed
        is wasted as hay in a feeder is: what is put out is held to the share too.
        """
        limited = self._limited(group, days)
        out = [(day, dict(here.put_out)) for day, here in sorted(days.items())]
        for day, here in (*self._eaten(group, days), *([] if self._in_bales(group) else out)):
            for most in sorted(set(limited.values())):
                mine = [one for one, share in limited.items() if share == most and one in here]
                part = sum(here[one] for one in mine) / max(sum(here.values()), NEAR)
                if part > most * 1.01 + 0.002:
                    yield f"{day} {' and '.join(mine)} is {part:.0%} of the day, most {most:.0%}"
                    return

    def _eaten(
        self, group: Group, days: dict[date, Day]
    ) -> Iterator[tuple[date, dict[str, float]]]:
        """Yield what is eaten on each day of what is put out. [kg DM]."""
        eaten = self._eaten_parts(group)
        for cell in self.plan["groups"]:
            if cell["group"] == group.group_id:
                for day in self._present(group, cell["start"], cell["days"]):
                    out = days[day].put_out if day in days else {}
                    yield (
                        day,
                        {
                            one: kg * eaten.get((one, cell["period"]), 1.0)
                            for one, kg in out.items()
                        },
                    )

    def _as_one(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold all that brings one danger to the part of the diet that one such thing may be."""
        del days
        eaten: dict[int, dict[str, float]] = defaultdict(dict)
        for row in self.plan["feeding"]:
            if row["group"] == group.group_id:
                eaten[row["period"]][row["source"]] = row["eaten_kg_dm_per_head_day"]
        for period in self.plan["periods"]:
            diet = eaten[period["index"]]
            sums: dict[tuple[str, float], float] = defaultdict(float)
            here = list(self._present(group, period["start"], period["days"]))
            for source, kg in diet.items():
                for danger in self._dangers(group, source, here):
                    sums[danger] += kg
            for (danger, share), kg in sums.items():
                if kg > share * sum(diet.values()) * (1.0 + NEAR) + NEAR:
                    part = kg / sum(diet.values())
                    yield f"{period['start']} {danger} is {part:.0%} of the diet, most {share:.0%}"
                    return

    def _other_hay(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Look for other forage beside what packs the gut, brings stones or poisons slowly.

        No number is published: half of the forage of horses on bermudagrass, a quarter beside
        straw, half beside alfalfa for idle horses and for males; of hay with 2 to 5 ppm of selenium
        two fifths keep the mean at 2. What there is too little of is told as short, and of untested
        fescue with its caution.
        """
        del days
        mixes = self._mixes(group)
        told = [one for one in self.plan["shortages"]
                if (one["group"], one["nutrient"]) == (group.group_id, "other_hay")]  # fmt: skip
        warned = [one for one in self.plan["cautions"]
                  if one["rules"] == ["fescue-unknown-others"] and one["start"]
                  and group.group_id in one["groups"]]  # fmt: skip
        for period in self.plan["periods"]:
            eaten = {one["source"]: one["eaten_kg_dm_per_head_day"] for one in self.plan["feeding"]
                     if (one["group"], one["period"]) == (group.group_id, period["index"])
                     and self._is_forage(one["source"])}  # fmt: skip
            for word, part in mixes.items():
                known = any(one["start"] <= period["start"] < one["end"]
                            for one in (warned if word == "fescue" else told))  # fmt: skip
                kg = sum(kg for one, kg in eaten.items() if one in self.lots
                         and self._is_all(self.lots[one], word))  # fmt: skip
                if kg > part * sum(eaten.values()) * (1.0 + 1e-3) + NEAR and not known:
                    yield f"{period['start']} {word} is {kg / sum(eaten.values()):.0%} of forage"
                    return

    def _mixed_by_day(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold what wants other forage beside it to its part of each day, as the plan asks for it.

        What makes up for a feed that climbs, or stands in, is no more of it than the mean is. A
        twentieth more is let be: no part of these is published. Whole bales lie for days.
        """
        if self._in_bales(group):
            return
        asked = self._asked(group)
        for word, part in self._mixes(group).items():
            if word == "fescue":  # told with its caution, and not limited
                continue
            for day, here in sorted(days.items()):
                kg, whole = self._of_word(here, word)
                want, of = self._of_word(asked[day], word)
                most = max(part, want / max(of, NEAR))
                if kg > most * whole * 1.05 + NEAR and kg > want * 1.02:
                    yield f"{day} {word} is {kg / whole:.0%} of the forage, most {most:.0%}"
                    return

    def _of_word(self, here: Day, word: str) -> tuple[float, float]:
        """Return what of a day is hay that wants other beside it, and all its forage. [kg DM]."""
        forage = {one: kg for one, kg in here.put_out.items() if self._is_forage(one)}
        mine = sum(kg for one, kg in forage.items()
                   if one in self.lots and self._is_all(self.lots[one], word))  # fmt: skip
        return mine, sum(forage.values())

    def _mixes(self, group: Group) -> dict[str, float]:
        """Return what wants other forage beside it, and which part of the forage it may be."""
        kind = group.animal_class.value
        mixes = {"straw": 0.75, "selenium": 0.4}
        if kind in HORSES:
            mixes["bermuda"] = 0.5
        elif kind not in CAMELIDS:
            mixes["fescue"] = 0.75
        if kind in ("horse", "donkey", "mule", "ram", "buck", "feeder_lamb", "kid"):
            mixes["alfalfa"] = 0.5
        return mixes

    def _is_all(self, lot: Lot, word: str) -> bool:
        """Say whether a lot is straw, alfalfa alone, a grass of a name or rich in selenium."""
        if word == "selenium":
            return (self._value(lot, word) or 0.0) > 2.0
        if word == "fescue" and (
            self._value(lot, "ergovaline") is not None or "free" in lot.species
        ):
            return False
        if word in ("straw", "alfalfa"):
            return lot.forage.value == word
        return word in f"{lot.species} {lot.name}".lower()

    def _dangers(self, group: Group, source: str, days: list[date]) -> Iterator[tuple[str, float]]:
        """Yield what a source brings and the largest part of the diet that may bring it."""
        kind = group.animal_class.value
        lot, feed = self.lots.get(source), self.feeds.get(source)
        if kind not in HORSES:
            # The list is held to two fifths of 2,000 to 3,500 ppm, the program to the strict 35 %.
            share = self._nitrate_share(group, source)
            if share < 1.0:
                yield "nitrate", share
        if feed is not None and feed.kind is FeedKind.GRAIN and kind in CAMELIDS:
            yield "grain", 0.2
        if lot is None:
            return
        plant = f"{lot.species} {lot.name}".lower()
        if lot.forage.value == "alfalfa" and kind in CAMELIDS:
            yield "alfalfa", 0.5
        calving = any(self._before_birth(group, day, 21) for day in days)
        if lot.forage.value == "alfalfa" and kind == "dry_dairy_cow" and calving:
            yield "alfalfa before calving", 0.5
        if "sweet clover" in plant:
            yield "sweet clover", 0.5
        if kind in HORSES and "alsike" in plant:
            yield "alsike", 0.05

    def _beside_safe(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Look for a third of the day's forage in hay that may be all of it, where some may not.

        A sixth of the third may be missing: hay is offered with what is wasted of it, each as its
        package and feeder waste it. Whole bales lie before a group for days. What is told of a
        week in which too little of it is over to begin other hay low is known; no day may then be
        all hay with nitrate.
        """
        limited = self._limited(group, days)
        told = [one for one in self.plan["cautions"]
                if one["level"] == "warning" and one["start"] and group.group_id in one["groups"]
                and any(rule.startswith("nitrate-begin") for rule in one["rules"])]  # fmt: skip
        if group.animal_class.value in HORSES or self._in_bales(group):
            return
        for day, here in sorted(days.items()):
            forage = {one: kg for one, kg in here.put_out.items() if self._is_forage(one)}
            whole = sum(forage.values())
            safe = sum(kg for one, kg in forage.items() if one not in limited)
            known = any(one["start"] <= day.isoformat() < one["end"] for one in told)
            if safe < (0.05 if known else 5.0 / 18.0) * whole - NEAR:
                yield f"{day} hay without nitrate is {safe / whole:.0%} of the forage"
                return

    def _sum_of_nitrate(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold the nitrate of all that is eaten and drunk to the limit of the diet, every day.

        A day above the mean of its week is no comfort to who ate it.
        """
        for day, ppm, most in self._nitrate_by_day(group, days):
            if ppm > most * 1.001 + 1.0:
                yield f"{day} {ppm:.0f} ppm nitrate-nitrogen in what is eaten, most {most:.0f}"
                return

    def _nitrate_by_day(
        self, group: Group, days: dict[date, Day]
    ) -> Iterator[tuple[date, float, float]]:
        """Yield each day, the nitrate-nitrogen of its diet and the most, Clemson. [ppm DM].

        Where bales lie, stock eat of all that lies, and no more than the mean of their ration. On
        a day that is short of it they drink less, as water goes with dry matter (NRC 2001).
        """
        if group.animal_class.value in HORSES:
            return
        most = 1000.0 if self._pregnant(group) else 1500.0
        water = 0.0 if self.farm.weather else self.farm.season.water_nitrate_no3n_ppm or 0.0
        eaten, asked = self._eaten_parts(group), self._asked(group)
        lies, lying = self._in_bales(group), defaultdict[str, float](float)
        for cell in self.plan["groups"]:
            if cell["group"] != group.group_id:
                continue
            for day in self._present(group, cell["start"], cell["days"]):
                here = days[day].put_out if day in days else {}
                kg = {one: here[one] * eaten.get((one, cell["period"]), 1.0) for one in here}
                drunk = 0.10 * cell["full_weight_kg"] * water * group.head
                if lies:
                    for one, each in kg.items():
                        lying[one] += each
                    want = asked[day].put_out
                    need = sum(want[one] * eaten.get((one, cell["period"]), 1.0) for one in want)
                    part = min(1.0, need / max(sum(lying.values()), NEAR))
                    kg = {one: part * each for one, each in lying.items()}
                    drunk *= min(1.0, sum(kg.values()) / max(need, NEAR))
                    for one in kg:
                        lying[one] -= kg[one]
                mg = drunk + sum(each * self._counted_nitrate(one) for one, each in kg.items())
                if sum(kg.values()) > NEAR:
                    yield day, mg / sum(kg.values()), most

    def _counted_nitrate(self, source: str) -> float:
        """Return the nitrate-nitrogen of a source; what may hold much counts as 4,000 ppm."""
        known, gathers, _ = self._nitrate(source)
        if known is not None:
            return known
        lot = self.lots.get(source)
        return 4000.0 if gathers or (lot is not None and lot.drought) else 0.0

    def _eaten_parts(self, group: Group) -> dict[tuple[str, int], float]:
        """Return what is eaten of what is put out of each source, by period.

        Hay that goes on beyond its ration is wasted as it was in it. Of grass the days hold what
        is eaten.
        """
        days = {
            one["period"]: one["days"]
            for one in self.plan["groups"]
            if one["group"] == group.group_id
        }
        parts = {
            (row["source"], row["period"]): min(
                1.0,
                row["eaten_kg_dm_per_head_day"] * group.head * days[row["period"]]
                / kg_dm(row["offered_kg"], self.dm[row["source"]]),
            )
            for row in self.plan["feeding"]
            if row["group"] == group.group_id and row["offered_kg"] > NEAR
            and not self._grazed(row["source"])
        }  # fmt: skip
        usual = {source: part for (source, _), part in parts.items()}
        beyond = {(one, period): part for one, part in usual.items() for period in days}
        return beyond | parts

    def _drunk(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Add the nitrate of the water, where it is known, to that of what is eaten."""
        del days
        water = self.farm.season.water_nitrate_no3n_ppm
        if water is None or group.animal_class.value in HORSES or self.farm.weather:
            return
        most = 1000.0 if self._pregnant(group) else 1500.0
        for cell in self.plan["groups"]:
            rows = [
                one
                for one in self.plan["feeding"]
                if (one["group"], one["period"]) == (cell["group"], cell["period"])
            ]
            if cell["group"] != group.group_id or not rows:
                continue
            eaten = {one["source"]: one["eaten_kg_dm_per_head_day"] for one in rows}
            # At 70 F a tenth of live weight, of stock in milk 15 %; the least that any drink.
            total = 0.10 * cell["full_weight_kg"] * water
            total += sum(kg * (self._nitrate(one)[0] or 0.0) for one, kg in eaten.items())
            if total > most * sum(eaten.values()) * 1.001 + 1.0:
                yield f"{cell['start']} {total:.0f} mg nitrate-nitrogen with the water"
                return

    def _calcium(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Look for calcium under 0.4 % of what ewes and does eat in the four weeks before birth."""
        del days
        if group.animal_class.value not in ("ewe", "ewe_lamb", "doe"):
            return
        pct = {one["source"]: one["ca_pct"] for one in self.plan["sources"]}
        for period in self.plan["periods"]:
            here = list(self._present(group, period["start"], period["days"]))
            if not any(self._before_birth(group, day, 28) for day in here):
                continue
            eaten = {
                one["source"]: one["eaten_kg_dm_per_head_day"]
                for one in self.plan["feeding"]
                if (one["group"], one["period"]) == (group.group_id, period["index"])
            }
            lacks = 0.4 * sum(eaten.values()) - sum(kg * pct[one] for one, kg in eaten.items())
            told = any(
                one["group"] == group.group_id and one["nutrient"] == "ca_floor"
                for one in self.plan["shortages"]
            )
            if lacks > 1e-3 and not told:
                yield f"{period['start']} calcium lacks {10.0 * lacks:.1f} g before birth"
                return

    # raised slowly

    def _slow(self, feed: Feed) -> int:
        """Return over how many days a feed is raised; 0 where it is not."""
        if feed.kind not in (FeedKind.GRAIN, FeedKind.SUPPLEMENT):
            return 0
        if feed.npn_cp_pct:
            return 14
        return 10 if feed.kind is FeedKind.GRAIN else 0

    def _free(self, group: Group, day: date) -> float:
        """Return what needs no days: half a pound, or 0.05 % of live weight if less. [kg]."""
        weight = max(
            (one["full_weight_kg"] for one in self.plan["groups"]
             if one["group"] == group.group_id
             and 0 <= (day - date.fromisoformat(one["start"])).days < one["days"]),
            default=group.weight_kg,
        )  # fmt: skip
        return min(0.5 * LB, 0.0005 * float(weight))

    def _series(self, days: dict[date, Day], source: str, head: int) -> list[float]:
        """Return what a head gets of a source each day, kg as fed."""
        count = (self.last - self.first).days
        dry = self.dm[source] / 100.0
        every = [self.first + timedelta(days=number) for number in range(count)]
        same = [one for one in self.feeds if self._feed_of(one) == source]
        return [sum(days[day].put_out.get(one, 0.0) for one in same) / dry / max(head, 1)
                if day in days else 0.0 for day in every]  # fmt: skip

    def _feed_of(self, source: str) -> str:
        """Return the feed of which a source is a purchase: what is bought later is no other."""
        return source.removesuffix("_later")

    def _known(self, group: Group, source: str) -> bool:
        return any(
            row.group_id == group.group_id and row.source_id == source and row.day < self.first
            for row in self.farm.fed
        )

    def _climbs(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold each rise to an even one: a part of it a day, and no more than it comes to.

        A rise begins at the level of the day before. Each period of the plan may hold so much
        more, on its mean, as needs no days: on the last of its n days of an even rise that is
        2 n / (n + 1) times as much. What was so added before goes on rising with the rest: the
        second period of a rise is on its mean so many times the first as `_grows` says. A row of
        weeks does not see on which of its days a feed is level: a twentieth is left for that.
        """
        starts = {
            date.fromisoformat(one["start"]): 2.0 * one["days"] / (one["days"] + 1.0)
            for one in self.plan["periods"]
        }
        for feed in self.farm.feeds:
            over = self._slow(feed)
            later = self._feed_of(feed.feed_id) != feed.feed_id
            if not over or later or self._known(group, feed.feed_id):
                continue
            line = self._series(days, feed.feed_id, group.head)
            before = level = goal = 0.0
            since = 0
            for at, kg in enumerate(line):
                day = self.first + timedelta(days=at)
                if kg <= before + NEAR:
                    level, since, before, free = kg, 0, kg, 0.0
                    continue
                # Of urea nothing is free.
                each = 0.0 if feed.npn_cp_pct else self._free(group, day)
                if since == 0:
                    free = 2.0 * each
                elif day in starts:
                    free = self._grows(over) * free + starts[day] * each
                since += 1
                comes_to = sum(line[at : at + over]) / len(line[at : at + over])
                comes_to = max(comes_to, max(line[at : at + over]))
                if feed.npn_cp_pct:  # each day a part of what the plan asks for by then
                    asked = self._asks(group, feed.feed_id, day, over)
                    goal = max(asked, goal if since > 1 else 0.0)
                    comes_to = max(comes_to, goal)
                most = level + (comes_to - level) * since / over + free
                if kg > most * 1.05 + NEAR:
                    yield f"{day} {feed.feed_id} is {kg:.2f} kg a head, most {most:.2f}"
                    break
                before = kg

    def _asks(self, group: Group, source: str, day: date, over: int) -> float:
        """Return the most that the plan asks for a head within so many days. [kg/d as fed]."""
        found = 0.0
        for row in self.plan["feeding"]:
            early = (date.fromisoformat(row["start"]) - day).days
            mine = (row["group"], self._feed_of(row["source"])) == (group.group_id, source)
            if mine and -row["days"] < early <= over:
                here = sum(1 for _ in self._present(group, row["start"], row["days"]))
                found = max(found, row["offered_kg"] / max(here * group.head, 1))
        return found

    def _all_grain(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold all grain of a day to the day before and one rise: what is free is free once."""
        kind = group.animal_class.value
        rise = LB if kind not in HORSES | SHEEP | GOATS | CAMELIDS else 0.5 * LB
        rise = rise if kind not in SHEEP | GOATS | CAMELIDS else 0.125 * LB
        grains = [one.feed_id for one in self.farm.feeds if one.kind is FeedKind.GRAIN]
        grains = [one for one in grains if self._feed_of(one) == one]
        if len(grains) < 2 or any(self._known(group, one) for one in grains):
            return
        lines = [self._series(days, one, group.head) for one in grains]
        whole = [sum(kg) for kg in zip(*lines, strict=True)]
        for at, (before, kg) in enumerate(pairwise([0.0, *whole])):
            day = self.first + timedelta(days=at)
            most = max(rise, self._free(group, day))
            if kg - before > most * 1.05 + NEAR:
                yield f"{day} all grain rises by {kg - before:.2f} kg a head, most {most:.2f}"
                return

    def _grows(self, over: int, days: int = 7) -> float:
        """Return by how much a row of weeks lets the second week of a rise exceed the first."""
        heights = [min(1.0, (at + 1) / over) for at in range(4 * days)]
        first, second, third = (sum(heights[at : at + days]) for at in (0, days, 2 * days))
        return max(1.0, (second - first / second * third) / first)

    def _begins(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        eaten = dict(self._eaten(group, days))
        for source, share in self._limited(group, days).items():
            if self._known(group, source):
                continue
            begun = None
            for number in range((self.last - self.first).days):
                day = self.first + timedelta(days=number)
                mass = eaten.get(day, {}).get(source, 0.0)
                if mass <= NEAR:
                    begun = None
                    continue
                begun = day if begun is None else begun
                part = min(1.0, (1 + (day - begun).days // 3) / 3.0)
                if mass / sum(eaten[day].values()) > part * share * 1.01 + 0.002:
                    number = (day - begun).days + 1
                    yield f"{day} {source}, day {number}: over {part:.0%} of its share"
                    break

    # forage every day

    def _forage(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Follow the hay that lies before the group from day to day, and look for meals alone.

        While a feed climbs other hay makes up for it where there is some: hay must be there
        either by the days so counted or by the mean of each period.
        """
        even = self._hay_a_day(group)
        both = (self._while_meals_climb(group, even), even)
        found = [list(self._meals_alone(group, days, one)) for one in both]
        yield from found[0] if all(found) else ()

    def _meals_alone(
        self, group: Group, days: dict[date, Day], wanted: dict[date, float]
    ) -> Iterator[str]:
        lying = 0.0
        comes: dict[date, float] = defaultdict(float)
        for one in self.plan["deliveries"]:
            if one["group"] == group.group_id and self._is_forage(one["source"]):
                mass = kg_dm(one["mass_kg"], self.dm[one["source"]])
                comes[date.fromisoformat(one["day"])] += mass
        for day in sorted(wanted):
            here = days.get(day, Day())
            lying += comes[day]
            grazed = any(
                self.feeds[one].kind is FeedKind.GRAZING
                for one in here.put_out
                if one in self.feeds
            )
            meal = [
                one
                for one, mass in here.put_out.items()
                if mass > NEAR and not self._is_forage(one) and self._is_meal(one)
            ]
            # Before the next visit half a day's hay may be missing, half a mean day of the visit;
            # and half a kilogram more, for which no bale is opened.
            visit = [wanted.get(day - timedelta(days=number), 0.0) for number in range(7)]
            least = wanted[day] - 0.5 * max(visit) - 0.5 - NEAR
            if meal and not grazed and (lying < least or lying <= NEAR):
                yield f"{day} {', '.join(meal)} with {lying:.1f} kg hay of {wanted[day]:.1f}"
                return
            lying = max(0.0, lying - wanted[day])

    def _on_its_day(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Look for hay on every day with meal or grain where it is eaten on the day it comes.

        What is unrolled or lies in a bunk does not last until the next day, whatever a bale holds.
        """
        at_once = group.feeder is not None and group.feeder.value in (
            "bunk", "mixed_ration", "unrolled_daily"
        )  # fmt: skip
        if not at_once or (group.feed_every_days or 1) > 1:
            return
        asked = self._hay_a_day(group)
        for day, here in sorted(days.items()):
            meal = sum(kg for one, kg in here.put_out.items()
                       if not self._is_forage(one) and self._is_meal(one))  # fmt: skip
            hay = sum(kg for one, kg in here.put_out.items() if self._is_forage(one))
            if meal > NEAR and asked.get(day, 0.0) > NEAR and hay <= NEAR:
                yield f"{day} {meal:.1f} kg of meal and grain and no hay before them"
                return

    def _hay_a_day(self, group: Group) -> dict[date, float]:
        """Return the dry matter of hay that the plan asks for on each day. [kg]."""
        found: dict[date, float] = {}
        for cell in self.plan["groups"]:
            if cell["group"] == group.group_id:
                for day in self._present(group, cell["start"], cell["days"]):
                    found[day] = 0.0
        for row in self.plan["feeding"]:
            feed = self.feeds.get(row["source"])
            grazed = feed is not None and feed.kind is FeedKind.GRAZING
            if row["group"] != group.group_id or grazed or not self._is_forage(row["source"]):
                continue
            here = list(self._present(group, row["start"], row["days"]))
            for day in here:
                found[day] += kg_dm(row["offered_kg"], self.dm[row["source"]]) / len(here)
        return found

    def _while_meals_climb(self, group: Group, hay: dict[date, float]) -> dict[date, float]:
        """Return hay that makes up for meals that are still to be raised, and then gives way."""
        slow = {feed.feed_id for feed in self.farm.feeds if self._slow(feed)}
        days = self._days(group)
        meals = {
            day: sum(kg for one, kg in days[day].put_out.items() if one in slow)
            for day in hay
            if day in days
        }
        found = dict(hay)
        for period in self.plan["periods"]:
            here = list(self._present(group, period["start"], period["days"]))
            fed = [meals.get(day, 0.0) for day in here]
            for day, kg in zip(here, fed, strict=True):
                if day in found:
                    more = sum(fed) / len(fed) - kg
                    found[day] += max(more, -0.7 * hay[day]) if hay[day] > 0.0 else 0.0
        return found

    def _is_meal(self, source: str) -> bool:
        return self.feeds[source].kind in (FeedKind.GRAIN, FeedKind.SUPPLEMENT)

    def _full(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold each day of a change to what the plan asks for on the mean of its period.

        A twentieth may be missing, and what is told of a week is known.
        """
        asked = self._asked(group)
        for period in self.plan["periods"]:
            every = self._present(group, period["start"], period["days"])
            here = [one for one in every if one in days]
            if self._in_bales(group) or not self._changes(group, days, here):
                continue
            for day in here:
                mass, mean = days[day].total(), asked[day].total()
                if mass < 0.95 * mean - NEAR and not self._told_lean(group, day, CHANGES):
                    yield f"{day} put out {mass:.0f} kg dry matter, {mean:.0f} on the mean"
                    return

    def _never_empty(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold each day to half of the forage that the plan asks for, whatever is told of it.

        Half is judgement: what is held back for a poison may leave stock lean, but never empty.
        """
        if self._in_bales(group):
            return
        asked = self._asked(group)
        for day in sorted(asked):
            here, want = ({one: kg for one, kg in by[day].put_out.items() if self._is_forage(one)}
                          for by in (days, asked))  # fmt: skip
            if sum(here.values()) < 0.5 * sum(want.values()) - NEAR:
                part = sum(here.values()) / sum(want.values())
                yield f"{day} forage is {part:.0%} of what the plan asks for"
                return

    def _told_lean(
        self, group: Group, day: date, rules: tuple[str, ...] = ("nitrate-", "hcn-half")
    ) -> bool:
        """Say whether a caution under a rule of those tells of a day with less than a fill."""
        return any(
            group.group_id in one["groups"]
            and any(rule.startswith(rules) for rule in one["rules"])
            and one["start"] is not None
            and one["start"] <= day.isoformat() < one["end"]
            for one in self.plan["cautions"]
        )

    def _in_one_night(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold the forage of each day to that of the day before, less a quarter of that ration.

        The quarter is the step in which horses change hay (extension schedules), here for all
        stock; a fifth of it more is for the days of a period on which hay gives way to grain.
        Hay in bales lies before a group as long as it lasts: there the plan itself is looked at.
        Grass that is gone is followed by what there is. While a hay begins by thirds the forage of
        a week is counted on its mean. What the plan tells of a week is known.
        """
        if self._in_bales(group):
            days = self._asked(group)
        told = [one for one in self.plan["shortages"]
                if (one["group"], one["nutrient"]) == (group.group_id, "forage_fall")]  # fmt: skip
        order = sorted(days)
        for before, day in pairwise(order):
            known = any(one["start"] <= day.isoformat() < one["end"] for one in told)
            if known or self._told_lean(group, day):
                continue
            was, now = days[before].put_out, days[day].put_out
            grazed = {one for one in was if one in self.feeds
                      and self.feeds[one].kind is FeedKind.GRAZING}  # fmt: skip
            if (day - before).days > 1 or any(now.get(one, 0.0) <= NEAR for one in grazed):
                continue
            week = [days[one] for one in order if 0 < (day - one).days <= 7]
            put_out = [sum(kg for one, kg in here.put_out.items() if self._is_forage(one))
                       for here in week]  # fmt: skip
            fell = put_out[-1]
            if any(
                week[0].put_out.get(one, 0.0) < 0.9 * was[one] for one in was if one in self.lots
            ):
                fell = min(fell, sum(put_out) / len(put_out))
            fell -= sum(kg for one, kg in now.items() if self._is_forage(one))
            fell -= sum(kg for one, kg in was.items() if self._is_forage(one)
                        and one in self.lots and self._why_none(group, one, day))  # fmt: skip
            if fell > 0.25 * 1.2 * days[before].total() + NEAR:
                part = fell / days[before].total()
                yield f"{day} forage falls in one night by {part:.0%} of the ration"
                return

    def _asked(self, group: Group) -> dict[date, Day]:
        """Return what the plan asks for on the mean of each period, as it would be put out."""
        days: dict[date, Day] = defaultdict(Day)
        for row in self.plan["feeding"]:
            feed = self.feeds.get(row["source"])
            if row["group"] != group.group_id:
                continue
            here = list(self._present(group, row["start"], row["days"]))
            mass = kg_dm(row["offered_kg"], self.dm[row["source"]]) / max(len(here), 1)
            if feed is not None and feed.kind is FeedKind.GRAZING:
                mass = row["eaten_kg_dm_per_head_day"] * group.head
            for day in here:
                days[day].put_out[row["source"]] += mass
        return days

    def _changes(self, group: Group, days: dict[date, Day], here: list[date]) -> bool:
        slow = [feed.feed_id for feed in self.farm.feeds if self._slow(feed)]
        return any(
            len({round(days[day].put_out.get(one, 0.0), 3) for day in here}) > 1
            for one in (*slow, *self._limited(group, days))
        )

    def _in_bales(self, group: Group) -> bool:
        """Say whether hay lies before the group for days, whatever the loads of a day are.

        What is opened where no whole bale is due is of them; what is mixed for its nitrate is not.
        """
        mixed = {one["source"] for one in self.plan["rules"]
                 if one["group"] == group.group_id and one["mixed"]}  # fmt: skip
        mine = [one for one in self.plan["feeding"] if one["group"] == group.group_id]
        when = {one["period"] for one in mine if one["source"] in mixed}
        mixed |= {one["source"] for one in mine if one["period"] in when}
        if group.feeder is not None and group.feeder.value == "mixed_ration":
            mixed |= {one["source"] for one in mine}
        baled = {one["source"] for one in self.plan["sources"] if one["bale_weight_kg"]}
        put_out = any(
            one["group"] == group.group_id
            and (one["bales"] or (one["for_days"] > 1 and self._is_forage(one["source"])))
            for one in self.plan["deliveries"]
        )
        return put_out or any(
            one["source"] in baled - mixed and self._is_forage(one["source"]) for one in mine
        )

    # one thing at a time

    def _begins_low(self, group: Group, source: str) -> bool:
        """Say whether hay is begun low for its nitrate: who had such hay does not begin anew.

        All of a share, and for stock in calf what holds more than 700 ppm (Nebraska G1779).
        """
        known, _, _ = self._nitrate(source)
        strong = known is not None and known > BEGUN_LOW_PPM and self._pregnant(group)
        return self._nitrate_share(group, source) < 1.0 or strong

    def _apart(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        starts: list[tuple[date, str]] = []
        limited = self._limited(group, days)
        given = {source for here in days.values() for source in here.put_out}
        for kind in ("grain", "npn", "nitrate"):
            sources = {
                "grain": [one.feed_id for one in self.farm.feeds if one.kind is FeedKind.GRAIN],
                "npn": [one.feed_id for one in self.farm.feeds if one.npn_cp_pct],
                "nitrate": list(limited),
            }[kind]
            # Stock in calf that had hay which is begun low for them do not begin with nitrate anew.
            like = [one for one in given if self._begins_low(group, one)]
            like = like if kind == "nitrate" else sources
            before = any(self._known(group, one) for one in like)
            for number in range((self.last - self.first).days):
                day = self.first + timedelta(days=number)
                put_out = days[day].put_out if day in days else {}
                if self._is_some(group, put_out, sources) and not before:
                    starts.append((day, kind))
                before = self._is_some(group, put_out, like)
        starts.sort()
        for (one, kind), (other, another) in pairwise(starts):
            if kind != another and (other - one).days < 7:
                yield f"{kind} begun on {one} and {another} on {other}"
                return

    def _is_some(self, group: Group, put_out: dict[str, float], sources: list[str]) -> bool:
        """Say whether a head gets some of these sources."""
        return sum(put_out.get(one, 0.0) for one in sources) / max(group.head, 1) > NEAR

    # no less at birth and weaning

    def _no_fall(self, group: Group, days: dict[date, Day]) -> Iterator[str]:
        """Hold what is put out in the week of a birth or weaning to what was put out before it.

        Whole bales come before they are due or after: two of the largest may be missing, and of a
        load that lies over the first day all may be eaten after it.
        """
        births = [(day, 7) for day in self._births(group)]
        weaned = [] if group.weaning_on is None else [(group.weaning_on, 0)]
        tdn = self._eaten_tdn(group)
        for event, after in births + weaned:
            for before, now in pairwise(self.plan["periods"]):
                start = date.fromisoformat(now["start"])
                if not -7 < (start - event).days <= after:
                    continue
                here = list(self._present(group, now["start"], now["days"]))
                early = list(self._present(group, before["start"], before["days"]))
                if not here or not early:
                    continue
                was, fed = (
                    sum(kg * tdn[one] for day in span if day in days
                        for one, kg in days[day].put_out.items()) / len(span)
                    for span in (early, here)
                )  # fmt: skip
                fed += self._lying(group, start, tdn) / len(here)
                if fed < was * 0.98 - 2.0 * self._largest_bale(group) / len(here):
                    yield f"{start} {fed:.1f} kg TDN, less at birth or weaning than {was:.1f}"
                    return

    def _eaten_tdn(self, group: Group) -> dict[str, float]:
        """Return what is eaten of a kilogram that is put out of each source, kg TDN."""
        tdn = {one["source"]: one["tdn_pct"] / 100.0 for one in self.plan["sources"]}
        days = {
            one["period"]: one["days"]
            for one in self.plan["groups"]
            if one["group"] == group.group_id
        }
        for row in self.plan["feeding"]:
            offered = kg_dm(row["offered_kg"], self.dm[row["source"]])
            if row["group"] == group.group_id and offered > NEAR:
                eaten = row["eaten_kg_dm_per_head_day"] * group.head * days[row["period"]]
                tdn[row["source"]] = min(1.0, eaten / offered) * next(
                    one["tdn_pct"] / 100.0
                    for one in self.plan["sources"]
                    if one["source"] == row["source"]
                )
        return tdn

    def _lying(self, group: Group, start: date, tdn: dict[str, float]) -> float:
        """Return the energy of bales put out for days before and after a day, kg TDN."""
        lies = 0.0
        for one in self.plan["deliveries"]:
            early = (start - date.fromisoformat(one["day"])).days
            if one["group"] == group.group_id and one["bales"] and 0 < early < one["for_days"]:
                mass = kg_dm(one["mass_kg"], self.dm[one["source"]])
                lies += mass * early / one["for_days"] * tdn[one["source"]]
        return lies

    def _largest_bale(self, group: Group) -> float:
        """Return the energy of the largest bale that a group is put out, or should be, kg TDN.

        The last bale of a lot may go to another group that wants part of it.
        """
        tdn = self._eaten_tdn(group)
        put_out = [(one, one["mass_kg"]) for one in self.plan["deliveries"]]
        wanted = [(one, one["offered_kg"]) for one in self.plan["feeding"]]
        return max(
            (kg_dm(kg / one["bales"], self.dm[one["source"]]) * tdn[one["source"]]
             for one, kg in put_out + wanted if one["group"] == group.group_id and one["bales"]),
            default=0.0,
        )  # fmt: skip

    # what the plan itself says

    def _rules_kept(self) -> Iterator[str]:
        """Hold the list to the rules that the plan and its cautions name, by their ids."""
        named = {one["rule"] for one in self.plan["rules"]}
        for caution in self.plan["cautions"]:
            for rule in caution["rules"]:
                if rule not in named:
                    yield f"a caution names {rule}, which holds nowhere"
        for rule in self.plan["rules"]:
            if rule["demand"] != "none":
                continue
            for load in self.plan["deliveries"]:
                mine = (load["group"], load["source"]) == (rule["group"], rule["source"])
                if mine and rule["start"] <= load["day"] < rule["end"]:
                    yield f"{rule['rule']}: {load['source']} to {load['group']} {load['day']}"
                    return
