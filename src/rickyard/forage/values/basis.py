"""Restating laboratory values between as received, dry matter and 90 % dry matter.

Only concentrations of nutrients are restated. Indices, ratios and shares of something other
than the sample keep their value on every basis.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.forage.values.analyte_kinds import KINDS
from rickyard.quantities import Numeric, OutOfRange, as_given

AIR_DRY_DM_PCT: Final = 90.0  # the "90 % dry matter" convention of hay markets

#: Values that are never restated by dry matter: indices and ratios have no basis, and colonies
#: are counted as received. Soluble and bound protein may be printed either way, and have none
#: when they are a share of the protein.
NEVER_RESCALED: Final = frozenset(("dm", "moisture")) | {
    kind.name
    for kind in KINDS.values()
    if kind.measure in ("none", "count") or (kind.as_share and kind.part == "ndf")
}


def as_received_to_dm(value: Numeric, dm_pct: Numeric) -> Numeric:
    """Restate a concentration in the sample as received as one in its dry matter.

    ``x_dm = x_ar * 100 / dm``; a definition. Not for indices, ratios or shares of another
    fraction (see ``NEVER_RESCALED``).

    Parameters
    ----------
    value : float or array
        Concentration as received. [any unit of concentration]
    dm_pct : float or array
        Dry matter of the sample, above 0 and at most 100. [% as received]

    Returns
    -------
    float or array
        Concentration in the dry matter. [unit of ``value``]

    Examples
    --------
    Mid-bloom alfalfa with 17.0 % protein as received at 91.0 % dry matter:

    >>> round(as_received_to_dm(17.0, 91.0), 2)
    18.68
    """
    _require_dm(dm_pct)
    with np.errstate(over="ignore"):
        dry = np.asarray(value) * 100.0 / np.asarray(dm_pct)
    if np.any(np.isinf(dry) & np.isfinite(value)):
        raise OutOfRange("The dry matter is too small to restate a value by.")
    return as_given(dry, value, dm_pct)


def dm_to_as_received(value: Numeric, dm_pct: Numeric) -> Numeric:
    """Restate a concentration in dry matter as one in the sample as received.

    ``x_ar = x_dm * dm / 100``, in the unit of the value; a dry matter that is not above 0 and at
    most 100 raises ``OutOfRange``.

    >>> dm_to_as_received(20.0, 50.0)
    10.0
    """
    _require_dm(dm_pct)
    # The share first: multiplied by at most 1, a value cannot be rounded above itself.
    return as_given(np.asarray(value) * (np.asarray(dm_pct) / 100.0), value, dm_pct)


def dm_to_basis(value: Numeric, basis_dm_pct: Numeric = AIR_DRY_DM_PCT) -> Numeric:
    """Restate a concentration in dry matter at a stated dry matter, 90 % unless told.

    Parameters
    ----------
    value : float or array
        Concentration in the dry matter. [any unit of concentration]
    basis_dm_pct : float or array
        Dry matter to restate at, above 0 and at most 100. [%]

    Returns
    -------
    float or array
        Concentration at that dry matter. [unit of ``value``]

    Examples
    --------
    >>> round(dm_to_basis(60.5), 2)
    54.45
    """
    return dm_to_as_received(value, basis_dm_pct)


def is_rescaled(name: str) -> bool:
    """Return whether a value of that name changes when its basis does.

    Parameters
    ----------
    name : str
        The analyte.

    Returns
    -------
    bool
        Whether it follows the dry matter; an index and a ratio do not.

    Examples
    --------
    >>> is_rescaled("cp"), is_rescaled("rfv")
    (True, False)
    """
    return name not in NEVER_RESCALED


def _require_dm(dm_pct: Numeric) -> None:
    dm = np.asarray(dm_pct, dtype=np.float64)
    if np.any((dm <= 0.0) | (dm > 100.0)):
        raise OutOfRange("Dry matter must be above 0% and at most 100%.")
