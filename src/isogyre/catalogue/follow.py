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
    chosen = [claim for claim in claims if claim.follow] or list(claims)
    if not chosen:
        return None
    voices = _voices(chosen, sources)
    rank = 1 if len(voices) >= VOICES_FOR_CONSENSUS else 0
    lows = sorted(low for low, _ in voices)
    highs = sorted((high for _, high in voices), reverse=True)
    low, high = lows[rank], highs[rank]
    # Voices that do not overlap at all can cross; then the widest range is the honest one.
    return (low, high) if low <= high else (lows[0], highs[0])


def _voices(claims: Sequence[Claim], sources: Mapping[str, Source]) -> list[Range]:
    grouped: dict[str, Range] = {}
    for claim in claims:
        # A claim that several sources share speaks with the voice of the first.
        key = claim.source.partition(";")[0]
        voice = sources[key].group or key
        low, high = grouped.get(voice, (claim.low, claim.high))
        grouped[voice] = (min(low, claim.low), max(high, claim.high))
    return list(grouped.values())
