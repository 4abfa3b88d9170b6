"""Several comparisons looked at together: chance has as many tries as there are of them."""

from collections.abc import Sequence


def holm(chances: Sequence[float | None]) -> list[float | None]:
    """
    Return the p of each comparison, made larger for the others that stand beside it.

    Holm, Scandinavian Journal of Statistics 6 (1979), from memory: that any of them is
    below 0.05 by chance alone happens at most one time in twenty, however they hang
    together. None stands for no test and counts for none.
    """
    told = sorted((p, i) for i, p in enumerate(chances) if p is not None)
    found: list[float | None] = [None] * len(chances)
    highest = 0.0
    for rank, (p, i) in enumerate(told):
        highest = max(highest, min(1.0, p * (len(told) - rank)))
        found[i] = highest
    return found
