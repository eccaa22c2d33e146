"""Crystal optics of a faceted stone: pure functions on arrays. Knows no gem."""
