"""Put nitrate of three laboratories on one scale.

Laboratories print nitrate-nitrogen, nitrate or potassium nitrate. Only on one scale can they be
set beside a limit. Nitrate kills: a result above the lowest class goes to the local extension
office or a veterinarian before the hay is fed.
"""

import rickyard as ry

printed = {
    "lab A prints NO3-N": 1200.0,
    "lab B prints NO3": ry.no3n_from_no3(5300.0),
    "lab C prints KNO3": ry.no3n_from_kno3(8600.0),
}
for lab, no3n_ppm in printed.items():
    print(f"{lab}: {no3n_ppm:5.0f} ppm NO3-N: {ry.nitrate_class_clemson(no3n_ppm)}")
