"""Which address leads to which page."""

from __future__ import annotations

from typing import Any, Final

from django.urls import path

from rickyard.web.pages import faults, season, views

urlpatterns: Final[list[Any]] = [
    path("", views.farms, name="farms"),
    path("<slug:address>/", views.yard, name="yard"),
    path("<slug:address>/season/", season.season, name="season"),
    path("<slug:address>/season/plan", season.plan, name="plan"),
    path("<slug:address>/season/stop", season.stop, name="stop"),
    path("<slug:address>/season/feed-by", season.feed_by, name="feed-by"),
    path("<slug:address>/feeding/", season.feeding, name="feeding"),
    path("<slug:address>/look-back/", views.look_back, name="look-back"),
    path("<slug:address>/hay/<path:lot_id>", views.lot, name="lot"),
]

handler400 = faults.bad
handler403 = faults.refused
handler404 = faults.not_found
handler500 = faults.broken
