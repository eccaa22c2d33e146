"""The record, the standing of a stone, and what to test next."""

from isogyre.evidence.planner import Plan, Proposal, plan
from isogyre.evidence.prior import SETTINGS, Setting, setting_of
from isogyre.evidence.record import RecordReading, fields_of, read_record, stone_states
from isogyre.evidence.standing import Candidate, Standing, Weight, stand

__all__ = [
    "SETTINGS",
    "Candidate",
    "Plan",
    "Proposal",
    "RecordReading",
    "Setting",
    "Standing",
    "Weight",
    "fields_of",
    "plan",
    "read_record",
    "setting_of",
    "stand",
    "stone_states",
]
