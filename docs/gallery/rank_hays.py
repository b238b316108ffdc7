"""Rank hays by relative feed value and by energy.

Three reports, one number each way. The index ranks alfalfa, cool-season grass and their mixtures
only; energy ranks any hay, if one equation is used for all of them.
"""

import rickyard as ry

hays = {"early alfalfa": (30.0, 39.0), "grass mixture": (36.0, 55.0), "rained on": (43.0, 62.0)}

for name, (adf_pct, ndf_pct) in hays.items():
    rfv = ry.relative_feed_value(adf_pct, ndf_pct)
    tdn_pct = ry.tdn_midwest(adf_pct)
    nem = ry.nem_from_tdn(tdn_pct)
    print(f"{name:14} RFV {rfv:4.0f}   TDN {tdn_pct:4.1f} %   NEm {nem:4.2f} Mcal/kg of dry matter")
