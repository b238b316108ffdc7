"""Sentences that say another basis than the heading does, and those that lead to their values."""

from __future__ import annotations

from rickyard.labs.intake import read_file

TABLE = """\
Sample,Lab No,Moisture %,CP % DM,ADF % DM,NDF % DM
Gate,7,12.0,9.7,37.0,61.2
Stile,8,11.1,10.9,35.8,58.7
"""


def statuses(text: str) -> dict[str, str]:
    return {one.analyte: one.status for one in read_file("a.csv", text.encode()).samples[0].values}


def test_a_sentence_against_the_heading_is_asked() -> None:
    note = "Note: protein ADF and NDF on this report are as received,,,,,\n"
    told = statuses(TABLE + note)
    assert told == {"moisture": "sure", "cp": "ask", "adf": "ask", "ndf": "ask"}


def test_a_sentence_that_says_what_the_heading_says_is_not_asked() -> None:
    told = statuses(TABLE + "\nCP, ADF and NDF are reported on a dry matter basis\n")
    assert set(told.values()) == {"sure"}


MAIL = """\
Buenos días:

Le mando los resultados de la muestra "Alfalfa lote 3". Materia seca 87,6 %. {dry}

La media de la zona es 17,0 % de proteína.
"""
DRY = "Sobre materia seca: proteína bruta 18,4 %, FDN 43,1 %, FDA 32,6 %, calcio 1,38 %."


def test_the_basis_that_leads_to_values_is_no_name() -> None:
    reading = read_file("correo.txt", MAIL.format(dry=DRY).encode())
    (sample,) = reading.samples
    assert sample.id != "Sobre materia seca"
    told = {one.analyte: (one.value, one.basis, one.status) for one in sample.values}
    assert told["cp"] == (18.4, "dm", "sure")
    assert told["ca"] == (1.38, "dm", "sure")
    assert reading.open_questions() == []
