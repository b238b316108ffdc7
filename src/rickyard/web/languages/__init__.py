"""Pages in another language: catalogues of sentences, and pages turned by them as they leave.

A sentence is written once, in American English, where it is made. A catalogue says each of them in
the other language; what stands in none stays in English and is marked as English.
"""

# fmt: off
from rickyard.web.languages.catalogue import read_catalogue
from rickyard.web.languages.choosing import LANGUAGES, choose
from rickyard.web.languages.turning import turned_page

__all__ = ["LANGUAGES", "choose", "read_catalogue", "turned_page"]
