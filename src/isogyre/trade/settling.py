"""What a laboratory would do where hand tests leave a question open."""

from collections.abc import Mapping
from types import MappingProxyType

from isogyre.catalogue.model import TreatmentWord
from isogyre.trade.errors import UnknownSubjectError
from isogyre.trade.rules import LaboratoryRule, TradeRules

QUESTIONS = ("name", "origin", "treatment")
NO_TREATMENTS: Mapping[str, TreatmentWord] = MappingProxyType({})


def settling_method(
    question: str,
    species: str,
    treatment: str,
    rules: TradeRules,
    treatments: Mapping[str, TreatmentWord] = NO_TREATMENTS,
) -> str:
    """Return the laboratory method that settles a question, or '' if none is known.

    Parameters
    ----------
    question
        ``name`` (which material or variety), ``origin`` (natural or grown) or ``treatment``.
    species, treatment
        As the catalogue spells them; an empty treatment asks for any.
    treatments
        The catalogue's treatments: their ``laboratory`` answers what no row of this species does.

    Raises
    ------
    UnknownSubjectError
        If ``question`` is none of the three.
    """
    if question not in QUESTIONS:
        raise UnknownSubjectError("question", question, QUESTIONS)
    asked = [r for r in rules.laboratory if r.question == question and r.treatment == treatment]
    of_species = next((rule.method for rule in asked if species in rule.species), "")
    of_treatment = treatments[treatment].laboratory if treatment in treatments else ""
    return of_species or of_treatment or _of_any(asked)


def _of_any(asked: list[LaboratoryRule]) -> str:
    return next((rule.method for rule in asked if not rule.species), "")
