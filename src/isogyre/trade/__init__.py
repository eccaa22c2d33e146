"""The rules of the trade: names, harm of tests, cautions, what a laboratory settles."""

from isogyre.trade.cautions import Caution, cautions_for
from isogyre.trade.errors import TradeRulesError, UnknownSubjectError
from isogyre.trade.harm import Harm, harm
from isogyre.trade.load import load_rules
from isogyre.trade.names import trade_name
from isogyre.trade.rules import TradeRules
from isogyre.trade.settling import settling_method

__all__ = [
    "Caution",
    "Harm",
    "TradeRules",
    "TradeRulesError",
    "UnknownSubjectError",
    "cautions_for",
    "harm",
    "load_rules",
    "settling_method",
    "trade_name",
]
