"""The record book's name and label, for Django."""

from __future__ import annotations

from django.apps import AppConfig

from rickyard.book.base import APP, LABEL


class BookApp(AppConfig):
    """The record book."""

    name = APP
    label = LABEL
