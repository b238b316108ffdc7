"""A daily need and how it is known."""

from __future__ import annotations

from dataclasses import dataclass

from rickyard.quantities import Numeric


@dataclass(frozen=True, slots=True)
class RuminantNeed:
    """What one head of small ruminants or dairy stock needs a day.

    Numbers are floats, or arrays of one shape. ``None`` means that the edition does not tell
    the constituent. ``dm_kg`` is the dry matter that the need was tabulated at, which is energy
    over the density of an assumed diet and no appetite. ``flags`` says in words where a value
    lies outside the printed range.
    """

    evidence: str
    dm_kg: Numeric
    tdn_kg: Numeric
    me_mcal: Numeric
    de_mcal: Numeric | None
    cp_g: Numeric
    ca_g: Numeric | None
    p_g: Numeric | None
    vitamin_a_iu: Numeric | None = None
    vitamin_d_iu: Numeric | None = None
    vitamin_e_iu: Numeric | None = None
    flags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HorseNeed:
    """What one horse needs a day; numbers are floats, or arrays of one shape.

    Units are in the names: Mcal of digestible energy, g, mg, IU. ``dm_kg`` is the dry matter
    of the edition's fixed share of body weight, at which trace elements are told.
    """

    evidence: str
    dm_kg: Numeric
    de_mcal: Numeric
    cp_g: Numeric
    lysine_g: Numeric
    ca_g: Numeric
    p_g: Numeric
    mg_g: Numeric
    k_g: Numeric
    na_g: Numeric
    cl_g: Numeric
    s_g: Numeric
    cu_mg: Numeric
    zn_mg: Numeric
    mn_mg: Numeric
    fe_mg: Numeric
    se_mg: Numeric
    i_mg: Numeric
    co_mg: Numeric
    vitamin_a_iu: Numeric
    vitamin_d_iu: Numeric
    vitamin_e_iu: Numeric
    flags: tuple[str, ...] = ()
