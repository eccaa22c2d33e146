"""From disagreeing claims to the range the program follows.

The rule: claims of one independence group count as one voice (they copy each other). With four
voices and more the second most extreme end is followed, so that one misprint cannot widen a
range; with fewer, the widest range any of them gives. Claims marked ``follow`` overrule the rest.
"""

from collections.abc import Mapping, Sequence

from isogyre.catalogue.model import Claim, Source

Range = tuple[float, float]

VOICES_FOR_CONSENSUS = 4


def followed_range(claims: Sequence[Claim], sources: Mapping[str, Source]) -> Range | None:
    """Return (low, high) of the range to follow, or None if nothing is claimed."""
    heard = voices(claims_heard(claims), sources)
    if not heard:
        return None
    rank = 1 if len(heard) >= VOICES_FOR_CONSENSUS else 0
    lows = sorted(low for low, _ in heard)
    highs = sorted((high for _, high in heard), reverse=True)
    low, high = lows[rank], highs[rank]
    # Voices that do not overlap at all can cross; then the widest range is the honest one.
    return (low, high) if low <= high else (lows[0], highs[0])


def claims_heard(claims: Sequence[Claim]) -> list[Claim]:
    """Return the claims that decide: those marked ``follow``, or all if none is marked."""
    return [claim for claim in claims if claim.follow] or list(claims)


def voices(claims: Sequence[Claim], sources: Mapping[str, Source]) -> list[Range]:
    """Return one range for each independence group among ``claims``."""
    grouped: dict[str, Range] = {}
    for claim in claims:
        # A claim that several sources share speaks with the voice of the first.
        key = claim.source.partition(";")[0]
        voice = sources[key].group or key
        low, high = grouped.get(voice, (claim.low, claim.high))
        grouped[voice] = (min(low, claim.low), max(high, claim.high))
    return list(grouped.values())
