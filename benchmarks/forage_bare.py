"""The formulas of the forage bench as bare NumPy arithmetic on whole columns.

Written out by hand from the publications, without a function of the package, to be measured against
and to be compared with: what the package makes of a report must be the same number.
"""

from __future__ import annotations

import numpy as np

# Codes of the forages in the order of the package.
(ALFALFA, CLOVER, MIX, COOL, RYEGRASS, WARM, SUMMER, GRAIN, PRAIRIE, STRAW, SILAGE) = range(11)
PERCENT = (
    *("cp", "adicp", "ndicp", "adf", "ndf", "lignin", "ndfd48", "ee", "ash", "starch", "wsc"),
    *("tdn", "ca", "p", "mg", "k", "s", "na", "cl", "lactic", "butyric"),
)
#: Places of the methods of TDN in the package's list.
PRINTED, WESTERN, CORN, PENN, SOUTHEAST, SUMMED = 0.0, 1.0, 4.0, 7.0, 9.0, 10.0
MAJOR = ("ca", "p", "k", "mg", "s", "na", "cl")
TRACE = ("fe", "mn", "zn", "cu")
PER_KG = ("cp", "adf", "ndf", "lignin", "ash", "ee", "ca", "p", "k", "mg")


def bare_indices(v, f):
    """Return every index of the batch, and the TDN method, for all rows."""
    out = {}
    cp = np.where(v["cp"] > 0.0, v["cp"], np.nan)
    adf = np.where(v["adf"] > 0.0, v["adf"], np.nan)
    ndf = np.where(v["ndf"] > 0.0, v["ndf"], np.nan)
    ca = np.where(v["ca"] > 0.0, v["ca"], np.nan)
    p = np.where(v["p"] > 0.0, v["p"], np.nan)
    ash, ee0, adicp0, ndicp0 = v["ash"], v["ee"], v["adicp"], v["ndicp"]
    k, mg, na, cl, s = v["k"], v["mg"], v["na"], v["cl"], v["s"]
    legume = f <= MIX
    silage = f == SILAGE
    ranked = (f != SILAGE) & (f != STRAW)
    ddm = 88.9 - 0.779 * adf
    dmi = 120.0 / ndf
    out["ddm_pct"], out["dmi_pct_bw"] = ddm, dmi
    out["rfv"] = np.where(ranked, ddm * dmi / 1.29, np.nan)
    out["nsc_pct"] = v["starch"] + v["wsc"]
    nfc = 100.0 - cp - ndf - ee0 - ash
    out["nfc_without_ndicp_pct"], out["nfc_with_ndicp_pct"] = nfc, nfc + ndicp0
    out["available_cp_pct"] = cp - adicp0
    share = 100.0 * adicp0 / cp
    partly = cp * (100.0 - (share - 7.0)) / 100.0
    out["adjusted_cp_pct"] = np.where(
        share < 14.0, cp, np.where(share <= 20.0, partly, cp - adicp0)
    )
    out["bound_share_pct_of_cp"] = share
    out["external_ash_pct"] = np.maximum(0.0, ash - np.where(legume, 8.0, 6.0))
    out["moisture_pct"] = 100.0 - v["dm"]
    western = 82.38 - 0.7515 * adf
    penn = 4.898 + 89.796 * (1.0876 - 0.0127 * adf)
    south = 111.8 + 0.95 * cp - 0.36 * adf - 0.7 * ndf
    corn = 87.84 - 0.70 * adf
    warm = (f == WARM) | (f == SUMMER) | (f == PRAIRIE)
    line = np.where(legume, western, np.where(warm, south, np.where(silage, corn, penn)))
    line = np.maximum(line, 0.0)
    out["tdn_regression_pct"] = line
    bound = np.where(np.isnan(ndicp0), 0.07 * ndf, ndicp0)
    ee = np.where(np.isnan(ee0), 2.0, ee0)
    adicp = np.where(np.isnan(adicp0), 0.06 * cp, adicp0)
    pure = ndf - bound
    pure = np.where(pure > 0.0, pure, np.nan)
    lignin = np.where(v["lignin"] <= pure, v["lignin"], np.nan)
    left = 100.0 - (pure + cp + ee + ash)
    d_nfc = 0.98 * left * np.where(silage, 0.94, 1.0)
    d_cp = cp * np.exp(-1.2 * adicp / cp)
    d_fa = np.maximum(0.0, ee - 1.0)
    d_ndf = 0.75 * (pure - lignin) * (1.0 - (lignin / pure) ** 0.667)
    summed = d_nfc + d_cp + 2.25 * d_fa + d_ndf - 7.0
    summed = np.where(summed >= 0.0, summed, np.nan)
    out["tdn_nrc2001_pct"] = summed
    out["de_nrc2001_mcal_per_kg"] = (4.2 * (d_nfc + d_ndf) + 5.6 * d_cp + 9.4 * d_fa) / 100.0 - 0.3
    printed = np.where(v["tdn"] > 0.0, v["tdn"], np.nan)
    out["tdn_printed_pct"] = printed
    tdn = np.where(np.isfinite(summed), summed, line)
    tdn = np.where(np.isfinite(printed), printed, tdn)
    out["tdn_pct"] = tdn
    by_line = np.where(legume, WESTERN, np.where(warm, SOUTHEAST, np.where(silage, CORN, PENN)))
    method = np.where(np.isfinite(line), by_line, np.nan)
    method = np.where(np.isfinite(summed), SUMMED, method)
    out["tdn_method"] = np.where(np.isfinite(printed), PRINTED, method)
    de = 0.04409 * tdn
    me = 0.82 * de
    out["de_mcal_per_kg"], out["me_mcal_per_kg"] = de, me
    nem = -1.12 + me * (1.37 + me * (-0.138 + me * 0.0105))
    neg = -1.65 + me * (1.42 + me * (-0.174 + me * 0.0122))
    out["nem_mcal_per_kg"], out["neg_mcal_per_kg"] = np.maximum(0.0, nem), np.maximum(0.0, neg)
    out["nel_mcal_per_kg"] = 0.0245 * tdn - 0.12
    ee = np.where(np.isnan(ee0), 2.05, ee0)
    pure, digested = ndf - bound, v["ndfd48"]
    left = 100.0 - (pure + cp + ee + ash)
    fa = np.maximum(0.0, ee - 1.0)
    t = 0.98 * left + 0.93 * cp + 0.97 * 2.25 * fa + pure * digested / 100.0 - 7.0
    by_legume = (dmi + (digested - 45.0) * (0.374 / 1350.0 * 100.0)) * t / 1.23
    t = 0.98 * left + 0.87 * cp + 0.97 * 2.25 * fa + pure * (22.7 + 0.664 * digested) / 100.0 - 10.0
    eats = (
        -2.318
        + 0.442 * cp
        - 0.0100 * cp**2
        - 0.0638 * t
        + 0.000922 * t**2
        + 0.180 * adf
        - 0.00196 * adf**2
        - 0.00529 * cp * adf
    )
    by_grass = np.where((eats >= 0.8) & (eats <= 4.5), eats * t / 1.23, np.nan)
    out["rfq"] = np.where(ranked, np.where(legume, by_legume, by_grass), np.nan)
    out["dcad_meq_per_kg"] = 434.98 * na + 255.74 * k - 282.06 * cl - 623.75 * s
    charge = 499.00 * ca + 822.64 * mg
    out["tetany_ratio"] = 255.74 * k / np.where(charge > 0.0, charge, np.nan)
    out["ca_to_p_ratio"] = ca / p
    out["cu_with_little_mo_ppm"] = np.where(v["mo"] < 1.0, v["cu"], np.nan)
    out["cu_to_mo_ratio"] = v["cu"] / np.where(v["mo"] > 0.0, v["mo"], np.nan)
    by_difference = 100.0 - cp - ndf - ee0 - ash
    kcal = (
        2118.0
        + 12.18 * cp
        - 9.37 * adf
        - 3.83 * (ndf - adf)
        + 47.18 * ee0
        + 20.35 * by_difference
        - 26.3 * ash
    )
    out["horse_de_pagan_mcal_per_kg"] = kcal / 1000.0 + 0.044 * np.maximum(0.0, ee0 - 5.0)
    out["horse_de_nrc_mcal_per_kg"] = 4.22 - 0.11 * adf + 0.0332 * cp + 0.00112 * adf**2
    out["nitrate_no3n_ppm"] = np.where(v["nitrate_no3n"] >= 0.0, v["nitrate_no3n"], np.nan)
    return out


def bare_classes(v, f, wet, indices, tables):
    """Return the place of each value in its table; ``tables`` gives limits and forages."""
    out = {}
    for name, (what, factor, limits, up, forages, wet_only) in tables.items():
        x = indices[what] if what in indices else v.get(what)
        if x is None:
            continue
        x = x if factor == 1.0 else factor * x
        place = np.zeros(len(x), dtype=np.int8)
        for limit in limits:
            place += (x >= limit) if up else (x > limit)
        mine = ~np.isnan(x)
        if not forages.all():
            mine &= forages[f]
        if wet_only:
            mine &= wet
        out[name] = np.where(mine, place, np.int8(-1))
    return out


def bare_rules(v, f, wet, limits):
    """Return what each rule marks, as (number, needs, flags), and the gravest level."""
    out = []
    found = {gravity: np.zeros(len(f), dtype=np.bool_) for gravity in (1, 2, 3)}

    def mark(rule, gravity, *flags):
        for one in flags:
            out.append((rule, one))
            found[gravity] |= one

    adf, ndf, cp, dm = v["adf"], v["ndf"], v["cp"], v["dm"]
    legume = (f == ALFALFA) | (f == CLOVER)
    grass = ~legume & (f != MIX)
    for name in PERCENT:
        mark("P01", 3, v[name] < 0.0, v[name] > 100.0)
    (a_low, a_high), (n_low, n_high) = (limits[name][2:] for name in ("adf", "ndf"))
    fits = (adf >= n_low[f]) & (adf <= n_high[f]) & (ndf >= a_low[f]) & (ndf <= a_high[f])
    above = ~legume & (adf > ndf - 0.5)
    mark("P04", 3, above & fits, above & ~fits)
    above = legume & (adf > ndf + 0.5)
    mark("P04", 2, above & fits, above & ~fits)
    mark("P05", 3, v["lignin"] > adf, v["lignin"] > ndf)
    mark("P06", 3, v["adicp"] > cp, v["ndicp"] > cp, v["adicp"] > v["ndicp"] + 0.3)
    mark("P07", 3, v["adicp"] > adf, v["ndicp"] > ndf)
    bound = np.where(np.isnan(v["ndicp"]), 0.07 * ndf, v["ndicp"])
    left = 100.0 - cp - ndf - v["ee"] - v["ash"] + bound
    mark("P12", 3, left < -2.0)
    mark("P12", 2, (left >= -2.0) & (left < 5.0) & (f != STRAW))
    roomy = wet | (f == GRAIN) | (f == SILAGE)
    mark("P12", 2, left > np.where(roomy, 60.0, 45.0))
    mark("P15", 3, v["neg"] >= v["nem"], v["neg"] <= -0.2)

    def rfv(a, n):
        return (88.9 - 0.779 * a) * (120.0 / np.where(n > 0.0, n, np.nan)) / 1.29

    off = np.abs(rfv(adf, ndf) - v["rfv"]) > 5.0
    dry = np.where((dm > 0.0) & (dm <= 97.0), dm, np.nan)
    received = off & (np.abs(rfv(100.0 * adf / dry, 100.0 * ndf / dry) - v["rfv"]) <= 5.0)
    swapped = off & (np.abs(rfv(ndf, adf) - v["rfv"]) <= 5.0)
    mark("P16", 2, received, swapped, off & ~(swapped | received))
    total = v["ca"] + v["p"] + v["k"]
    for name in ("mg", "s", "na", "cl"):
        total = total + np.where(np.isnan(v[name]), 0.0, v[name])
    mark("P20", 2, total > v["ash"] + 1.0)

    taken = {name: [limit[f] for limit in four] for name, four in limits.items()}
    fits = units(v, wet, taken, mark)
    rare = ratios(v, wet, taken, legume, grass, mark, limits)
    screens(v, taken, fits, mark, *rare)
    mark("S03", 1, v["fe"] > 400.0)
    level = np.where(found[3], 3, np.where(found[2], 2, np.where(found[1], 1, 0)))
    return out, level


def units(v, wet, taken, mark):
    """Mark values that fit better in another unit; return those that fit in g/kg."""
    cp, adf, ndf = v["cp"], v["adf"], v["ndf"]
    low, high, _, _ = taken["cp"]
    protein = 6.25 * cp
    mark("U01", 2, (cp < 4.6) & (cp < low) & (protein >= low) & (protein <= high))
    for name in MAJOR:
        mark("U02", 3, v[name] > 10.0)
    fits = {}
    for name in PER_KG:
        low, high, _, most = taken[name]
        tenth = v[name] / 10.0
        fits[name] = (v[name] > most) & (tenth >= low) & (tenth <= high)
        if name in MAJOR:
            fits[name] &= v[name] <= 10.0
        mark("U02", 3, fits[name])
    for name in ("cp", "adf", "ndf"):
        _, _, least, most = taken[name]
        share = 100.0 * v[name]
        possible = (share >= least) & (share <= most)
        mark("U02", 3, (v[name] > 0.0) & (v[name] <= 1.0) & possible)
    for name in TRACE:
        mark("U03", 3, (v[name] < 0.1) & (v[name] > 0.0))
    adicp = v["adicp"]
    mark("U04", 2, (adicp >= 2.0) & (adicp <= 35.0) & (adicp > 0.35 * cp))
    d = v["ndfd48"]
    mark("U05", 2, (d >= 0.3 * ndf) & (d <= 0.7 * ndf) & (d < 30.0))
    me = 0.82 * 0.04409 * np.maximum(v["tdn"], 0.0)
    nem = -1.12 + me * (1.37 + me * (-0.138 + me * 0.0105))
    ratio = v["nem"] / np.where(nem > 0.0, nem, np.nan)

    def near(r):
        return (r <= 1.25) & (r * 1.25 >= 1.0)

    mark("U06", 2, ~near(ratio) & (near(ratio / 0.45359237) | near(ratio * 0.45359237)))
    mark("U07", 2, (v["lignin"] > 0.5 * adf) & (v["lignin"] <= 25.0))
    dm = v["dm"]
    mark("U08", 3, (dm > 0.0) & (dm <= 1.0))
    mark("U08", 3, ~wet & (dm > 1.0) & (dm < 25.0), ~wet & (dm >= 25.0) & (dm < 50.0))
    mark("U08", 2, wet & (dm > 75.0))
    mark("U09", 1, dm > 97.0)
    mark("U10", 2, v["nitrate_no3n"] > 4000.0)
    return fits


def ratios(v, wet, taken, legume, grass, mark, limits):
    """Mark ratios unusual for the forage; return values, what is unusual, and calcium's."""
    x = {}
    for name in taken:
        if "/" in name:
            upper, lower = name.split("/")
            x[name] = v[upper] / np.where(v[lower] > 0.0, v[lower], np.nan)
        elif name in ("dm", "dm_wet"):
            mine = wet if name == "dm_wet" else ~wet
            x[name] = np.where(mine & (v["dm"] <= 97.0), v["dm"], np.nan)
        else:
            x[name] = v[name]
    unusual, above, below = {}, {}, {}
    for name, (low, high, least, most) in taken.items():
        below[name], above[name] = x[name] < low, x[name] > high
        if name in ("adicp/cp", "ca/p"):
            continue
        unusual[name] = (below[name] & (x[name] >= least)) | (above[name] & (x[name] <= most))
    ratio = x["adf/ndf"]
    some = (ratio >= 0.46) & (ratio <= 0.90)
    like_legume = grass & some & above["adf/ndf"]
    like_grass = legume & some & below["adf/ndf"]
    mark("S02", 2, like_legume, like_grass, unusual["adf/ndf"] & ~(like_legume | like_grass))
    mark("S02", 2, unusual["lignin/ndf"], above["adicp/cp"], below["adicp/cp"])
    mark("S02", 2, below["ca/p"], above["ca/p"])
    low, high, _, _ = limits["ca"]
    like = []
    for code, mine, side in ((ALFALFA, grass, above["ca"]), (COOL, legume, below["ca"])):
        usual = (v["ca"] >= low[code]) & (v["ca"] <= high[code])
        like.append(mine & usual & side)
    return x, unusual, like


def screens(v, taken, fits, mark, x, unusual, like):
    """Mark values rare or impossible for the forage."""
    for name, (_, _, least, most) in taken.items():
        if "/" in name:
            continue
        beyond, odd = (x[name] < least) | (x[name] > most), unusual[name]
        if name in PER_KG:
            beyond &= ~fits[name]
        if name in MAJOR:
            beyond &= x[name] <= 10.0
        if name == "ca":
            beyond, odd = beyond & ~like[0], odd & ~(like[0] | like[1])
        mark("S01", 3, beyond)
        mark("S01", 2, odd)
    mark("S01", 2, *like)
