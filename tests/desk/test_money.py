"""Amounts as people type them, in whole minor units of ISO 4217."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from isogyre.desk.money import MoneyError, amount_typed, money_in_words, parse_money
from isogyre.ledger import Money


@pytest.mark.parametrize(
    ("text", "currency", "minor"),
    [
        ("480", "EUR", 48000),
        (" 480.5 ", "EUR", 48050),
        ("480,50", "eur", 48050),
        ("1 200,00", "EUR", 120000),
        ("1.200,00", "EUR", 120000),
        ("1,200.00", "USD", 120000),
        ("1,200", "USD", 120000),
        ("1.200", "EUR", 120000),
        ("12'000", "CHF", 1200000),
        ("1,234,567", "INR", 123456700),
        ("0", "EUR", 0),
        # ISO 4217: the yen has no minor unit, the Kuwaiti dinar three digits.
        ("12000", "JPY", 12000),
        ("1.250", "KWD", 1250),
    ],
)
def test_an_amount_is_read_as_it_was_meant(text, currency, minor):
    assert parse_money(text, currency) == Money(minor, currency.upper())


@pytest.mark.parametrize(
    ("text", "currency", "words"),
    [
        ("about 480", "EUR", "no amount"),
        ("", "EUR", "no amount"),
        ("-5", "EUR", "no amount"),
        ("4.8.0", "EUR", "no amount"),
        ("1e9", "EUR", "no amount"),
        ("\u0664\u0668\u0660", "EUR", "no amount"),
        ("480.5055", "EUR", "2 decimals"),
        ("480.5", "JPY", "0 decimals"),
        ("480", "euros", "no currency"),
        ("480", "", "no currency"),
        ("9" * 20, "EUR", "check the figure"),
    ],
)
def test_what_is_no_amount_is_refused_with_a_way_to_mend_it(text, currency, words):
    with pytest.raises(MoneyError, match=words):
        parse_money(text, currency)


@given(st.integers(0, 10**13 - 1), st.sampled_from(["EUR", "JPY", "KWD"]))
def test_an_amount_typed_again_is_the_same_amount(minor, currency):
    money = Money(minor, currency)
    assert parse_money(amount_typed(money), currency) == money


def test_an_amount_is_read_aloud_with_its_currency():
    assert money_in_words(Money(125000, "EUR")) == "EUR 1\u202f250"
    assert money_in_words(Money(48050, "EUR")) == "EUR 480.50"
    assert money_in_words(Money(12000, "JPY")) == "JPY 12\u202f000"
