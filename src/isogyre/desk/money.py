"""Amounts of money as people type and read them."""

import re

from isogyre.ledger import Money

# ISO 4217 gives the digits of the minor unit; two, unless the currency is listed here.
# Source: ISO 4217, list one (current currencies); these from memory.
MINOR_DIGITS = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF"), 0),
    **dict.fromkeys(("UGX", "VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}
USUAL_DIGITS = 2
DEFAULT_CURRENCY = "EUR"
CURRENCIES = ("EUR", "USD", "GBP", "CHF", "THB", "LKR", "INR", "JPY", "HKD", "AUD", "CAD")
CODE = re.compile(r"[A-Z]{3}")
# Thousands may be parted by spaces or apostrophes, or by the sign that is not the decimal one.
SPACES = re.compile(r"[\s\u00a0\u2009\u202f'\u2019]+")
AMOUNT = re.compile(r"\d{1,3}(?:(?P<sign>[.,])\d{3})+|\d+")
MOST_DIGITS = 13


class MoneyError(ValueError):
    """What was typed is no amount of this currency."""


def parse_money(text: str, currency: str = DEFAULT_CURRENCY) -> Money:
    """Return an amount typed with point or comma, with or without signs between thousands.

    A single sign before three digits parts thousands, for nobody writes a price to a thousandth;
    of a currency with three digits it is the decimal sign.

    Raises
    ------
    MoneyError
        If the text is no amount, is below zero, has too many decimals, or the code is none.
    """
    code = currency.strip().upper()
    if not CODE.fullmatch(code):
        raise MoneyError(f"'{currency[:12]}' is no currency: write its three letters, such as EUR")
    digits = MINOR_DIGITS.get(code, USUAL_DIGITS)
    bare = SPACES.sub("", text)
    whole, decimals = _parts(bare, digits)
    if not whole.isascii() or not whole.isdigit() or not (decimals == "" or decimals.isdigit()):
        raise MoneyError(f"'{text[:40]}' is no amount: write for instance 480 or 480.50")
    if len(decimals) > digits:
        raise MoneyError(f"{code} has {digits} decimals: '{text[:40]}' has {len(decimals)}")
    if len(whole) > MOST_DIGITS:
        raise MoneyError(f"'{text[:40]}' is more than anything costs: check the figure")
    return Money(int(whole + decimals.ljust(digits, "0")), code)


def _parts(bare: str, digits: int) -> tuple[str, str]:
    """Return what stands before and behind the decimal sign, without signs between thousands."""
    if (match := AMOUNT.fullmatch(bare)) and not (match["sign"] and digits == 3):
        return re.sub("[.,]", "", bare), ""
    last = max(bare.rfind("."), bare.rfind(","))
    if last < 0:
        return bare, ""
    whole, decimals = bare[:last], bare[last + 1 :]
    if match := AMOUNT.fullmatch(whole):
        return re.sub("[.,]", "", whole), decimals
    return whole, decimals


def money_in_words(money: Money) -> str:
    """Return an amount as it is read: EUR 1 250, or EUR 480.50."""
    digits = MINOR_DIGITS.get(money.currency, USUAL_DIGITS)
    whole, rest = divmod(abs(money.minor), 10**digits)
    grouped = f"{whole:,}".replace(",", "\u202f")
    decimals = f".{rest:0{digits}d}" if rest else ""
    sign = "−" if money.minor < 0 else ""
    return f"{money.currency} {sign}{grouped}{decimals}"


def amount_typed(money: Money) -> str:
    """Return an amount as one would type it again, without its currency."""
    digits = MINOR_DIGITS.get(money.currency, USUAL_DIGITS)
    whole, rest = divmod(money.minor, 10**digits)
    return f"{whole}.{rest:0{digits}d}" if rest else str(whole)
