"""Which address leads to which page."""

from __future__ import annotations

from typing import Any, Final

from django.urls import path, register_converter

from rickyard.web.coring import core, core_back, cored, cores, sent
from rickyard.web.daily import DayInAddress, fed, feeding, not_fed, week
from rickyard.web.languages import choose
from rickyard.web.looking import deleted, intake, look_back, trail, years
from rickyard.web.offices import labs, letter, package, price, prices
from rickyard.web.outside import season_share, season_unshare, share, shown, unshare
from rickyard.web.pages import (
    district,
    faults,
    hay,
    paper,
    people,
    questions,
    season,
    starting,
    stock,
    tests,
    views,
)
from rickyard.web.pages.persons import open_to_all
from rickyard.web.placing import place, place_back, yard_map

register_converter(DayInAddress, "day")

urlpatterns: Final[list[Any]] = [
    path("", district.farms, name="farms"),
    path("due", district.due, name="due"),
    path("short", district.short, name="short"),
    path("labs", labs, name="labs"),
    path("labs/package", package, name="package"),
    path("prices", prices, name="prices"),
    path("prices/feed", price, name="price"),
    path("letter/<slug:address>", letter, name="letter"),
    path("sign-in", people.sign_in, name="sign-in"),
    path("sign-out", people.leave, name="sign-out"),
    path("invitation/<str:code>", people.invitation, name="invitation"),
    path("account", people.account, name="account"),
    path("account/sign-out", people.end_place, name="end-place"),
    path("account/password", people.password, name="password"),
    path("account/codes", people.codes, name="codes"),
    path("deleted", deleted, name="deleted"),
    path("s/<str:code>", open_to_all(shown), name="shared"),
    path("favicon.ico", open_to_all(paper.sign), name="sign"),
    path("language", choose, name="language"),
    path("start", starting.start, name="start"),
    path("start/ask/<int:number>", starting.ask, name="ask"),
    path("start/keep", starting.keep, name="keep"),
    path("<slug:address>/", views.yard, name="yard"),
    path("<slug:address>/season/", season.season, name="season"),
    path("<slug:address>/season/plan", season.plan, name="plan"),
    path("<slug:address>/season/stop", season.stop, name="stop"),
    path("<slug:address>/season/beside", season.beside, name="beside"),
    path("<slug:address>/season/feed-by", season.feed_by, name="feed-by"),
    path("<slug:address>/season/share", season_share, name="season-share"),
    path("<slug:address>/season/share/end", season_unshare, name="season-unshare"),
    path("<slug:address>/season/what-if", questions.what_if, name="what-if"),
    path("<slug:address>/season/what-if/take", questions.take_asked, name="take-asked"),
    path("<slug:address>/season/take", questions.take, name="take"),
    path("<slug:address>/season/wish", questions.wish, name="wish"),
    path("<slug:address>/season/unwish", questions.unwish, name="unwish"),
    path("<slug:address>/feeding/", feeding, name="feeding"),
    path("<slug:address>/feeding/week/<day:day>", week, name="week"),
    path("<slug:address>/feeding/<day:day>", feeding, name="feeding-day"),
    path("<slug:address>/feeding/<day:day>/fed", fed, name="fed"),
    path("<slug:address>/feeding/<day:day>/undo", not_fed, name="not-fed"),
    path("<slug:address>/tests/", tests.tests, name="tests"),
    path("<slug:address>/tests/bring-in", tests.bring_in, name="bring-in"),
    path("<slug:address>/tests/report/<uuid:file>", tests.report, name="report"),
    path("<slug:address>/tests/report/<uuid:file>/use", tests.use, name="use"),
    path("<slug:address>/tests/<path:lot_id>/cores", cores, name="cores"),
    path("<slug:address>/tests/<path:lot_id>/core", core, name="core"),
    path("<slug:address>/tests/<path:lot_id>/core-back", core_back, name="core-back"),
    path("<slug:address>/tests/<path:lot_id>/cored", cored, name="cored"),
    path("<slug:address>/tests/<path:lot_id>/sent", sent, name="sent"),
    path("<slug:address>/stock/", stock.stock, name="stock"),
    path("<slug:address>/stock/<path:group_id>", stock.group, name="group"),
    path("<slug:address>/look-back/", look_back, name="look-back"),
    path("<slug:address>/look-back/intake", intake, name="intake"),
    path("<slug:address>/years/", years, name="years"),
    path("<slug:address>/trail/", trail, name="trail"),
    path("<slug:address>/people/", people.people, name="people"),
    path("<slug:address>/people/invite", people.let_in, name="invite"),
    path("<slug:address>/people/close", people.close, name="close"),
    path("<slug:address>/hay/", hay.hay, name="hay"),
    path("<slug:address>/hay/put-up", hay.put_up, name="put-up"),
    path("<slug:address>/yard-map", yard_map, name="yard-map"),
    path("<slug:address>/yard-map/place", place, name="place"),
    path("<slug:address>/yard-map/back", place_back, name="place-back"),
    path("<slug:address>/feeding/week.pdf", paper.week, name="week-pdf"),
    path("<slug:address>/season/season.pdf", paper.season, name="season-pdf"),
    path("<slug:address>/hay/<path:lot_id>/sheet.pdf", paper.lot, name="lot-pdf"),
    path("<slug:address>/hay/<path:lot_id>/share", share, name="share"),
    path("<slug:address>/hay/<path:lot_id>/share/end", unshare, name="unshare"),
    path("<slug:address>/hay/<path:lot_id>/note", hay.note, name="note"),
    path("<slug:address>/hay/<path:lot_id>/weigh", hay.weigh, name="weigh"),
    path("<slug:address>/hay/<path:lot_id>/probe", hay.probe, name="probe"),
    path("<slug:address>/hay/<path:lot_id>", views.lot, name="lot"),
]

handler400 = faults.bad
handler403 = faults.refused
handler404 = faults.not_found
handler500 = faults.broken
