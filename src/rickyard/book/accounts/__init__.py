"""Accounts of a shared book: passwords, codes, signing in, and where somebody is signed in.

Knows nothing of farms: who may do what there stands in their memberships.
"""

# fmt: off
from rickyard.book.accounts.accounts import (
    LEAST_PASSWORD, account_of, add_account, close_account, every_account, set_password,
)
from rickyard.book.accounts.codes import at, digest_of, new_code
from rickyard.book.accounts.signing import (
    Asking, NotSignedIn, STAYS, STAYS_KEPT, ask_codes, change_password, places_of, sign_in,
    sign_out, signed_in,
)
from rickyard.book.accounts.tries import TooOften, count_tries, forget_tries
from rickyard.book.accounts.two_step import address_for_app, code_of, new_secret

__all__ = [
    "Asking", "LEAST_PASSWORD", "NotSignedIn", "STAYS", "STAYS_KEPT", "TooOften", "account_of",
    "add_account", "address_for_app", "ask_codes", "at", "change_password", "close_account",
    "code_of", "count_tries", "digest_of", "every_account", "forget_tries", "new_code",
    "new_secret", "places_of", "set_password", "sign_in", "sign_out", "signed_in",
]
