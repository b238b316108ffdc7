"""Which address leads to which page."""

from __future__ import annotations

from typing import Any, Final

from django.urls import path

from rickyard.web.pages import faults, views

urlpatterns: Final[list[Any]] = [
    path("", views.farms, name="farms"),
    path("<slug:address>/", views.yard, name="yard"),
    path("<slug:address>/hay/<path:lot_id>", views.lot, name="lot"),
]

handler400 = faults.bad
handler403 = faults.refused
handler404 = faults.not_found
handler500 = faults.broken
