"""What a temperature inside stored hay means for the stack and for its protein."""

from __future__ import annotations

from typing import Final

from rickyard.quantities import UNITS

PURDUE_SOURCE: Final = "Johnson & Burbrink, Purdue Extension (2022), hay temperature list"
STRICTEST_SOURCE: Final = (
    "Strictest of Purdue, Penn State, Cornell and Michigan State Extension advice on hot hay"
)

# A reading takes the label of the highest listed temperature it has reached. [degF]
_PURDUE_LABELS: Final = (
    (200.0, "fire imminent"),
    (190.0, "fire likely: remove with fire service"),
    (175.0, "hot spots or fire pockets likely: stop air movement, alert fire service"),
    (160.0, "danger zone: check every couple of hours"),
    (150.0, "danger zone: check twice daily"),
    (126.0, "watch"),  # the list is silent between 125 and 150
)
_NO_ACTION: Final = "no action"

# The strictest action among the extension sources, by the temperature reached. [degF]
_ACTIONS: Final = (
    (
        175.0,
        "fire is likely or already there: stop air movement, stay off the stack, and call the "
        "fire service before moving a bale",
    ),
    (
        160.0,
        "call the fire service now, check every two hours, and stay off the stack",
    ),
    (
        150.0,
        "danger zone: check every two hours, warn the fire service, and do not walk on the stack",
    ),
    (131.0, "check every few hours; the hay is losing protein to heat"),
    (115.0, "check twice daily; mold and heat damage to protein begin"),
)

#: Heat at which bound protein is worth a test (Crop File 6.01.002: above 130 degF).
HEAT_DAMAGE_FROM_C: Final = 54.4
DANGER_FROM_C: Final = UNITS["degF"].to_canonical(150.0)


def hay_temperature_label(temperature_c: float) -> str:
    """Return the Purdue label of a temperature inside dry hay.

    Parameters
    ----------
    temperature_c : float
        Temperature in the core of the stack or bale. [degC]

    Returns
    -------
    str
        The label of the highest listed temperature that is reached.

    Notes
    -----
    For dry hay; the rules do not hold for baleage and silage. Checks go on for three to four
    weeks after stacking.

    References
    ----------
    .. [1] Johnson & Burbrink, Purdue Extension (2022), hay temperature list.

    Examples
    --------
    >>> hay_temperature_label(74.0)
    'danger zone: check every couple of hours'
    >>> hay_temperature_label(40.0)
    'no action'
    """
    return _reached(_PURDUE_LABELS, temperature_c) or _NO_ACTION


def hay_temperature_action(temperature_c: float) -> str:
    """Return the strictest published action for a temperature inside dry hay.

    Parameters
    ----------
    temperature_c : float
        Temperature in the core of the stack or bale. [degC]

    Returns
    -------
    str
        What to do; empty below 46 degC (115 degF), an ordinary sweat.

    References
    ----------
    .. [1] Purdue, Penn State, Cornell and Michigan State Extension advice on hot hay.

    Examples
    --------
    >>> hay_temperature_action(50.0)
    'check twice daily; mold and heat damage to protein begin'
    """
    return _reached(_ACTIONS, temperature_c)


def _reached(steps: tuple[tuple[float, str], ...], temperature_c: float) -> str:
    fahrenheit = UNITS["degF"]
    return next(
        (text for limit, text in steps if temperature_c >= fahrenheit.to_canonical(limit)), ""
    )
