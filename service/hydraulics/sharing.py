"""How parallel paths share a flow: so that all of them lose the same pressure."""

from collections.abc import Callable, Sequence

from fluids.numerics import brenth

Drop = Callable[[float], float]

# As a fraction of the total: a share's relative accuracy, and the share below which it is no longer held.
RELATIVE_ACCURACY = 1e-12
ABSOLUTE_ACCURACY = 1e-16

# How far from a jump, as a fraction of a flow, both of its sides are surely reached.
BESIDE_A_JUMP = 1e-11

root: Callable[..., float] = brenth
"""Where a continuous function changes sign: Brent's method with hyperbolic extrapolation."""


def share_flow(drops: Sequence[Drop], total: float) -> tuple[float, ...]:
    """Give the flow of each parallel path, in the order of the paths and in the unit of the total.

    Where a path's drop jumps (the edge between laminar and turbulent flow) there may be no flow at which
    the drops agree; that path is then held at its jump, where the difference of the drops changes sign, on the
    side that loses less, so that the greatest drop is the one that the other paths agree on.
    Paths without any drop share the total equally, and the others get nothing.

    drops: one function per path, from flow [any one unit] to pressure drop [any one unit]; 0 at no flow,
        never falling, in all of 0..total
    total: the flow to share [the unit of the functions' argument], 0 or more

    Flows are right to about 1e-9 of themselves while they are above a millionth of the total.
    Raises ValueError without any path, or where the total is negative.
    Source: pipes in parallel, e.g. White, Fluid Mechanics, section 6.10.
    """
    if not drops:
        raise ValueError("a flow needs at least one path to share")
    if not total >= 0:
        raise ValueError(f"the total flow must be 0 or more, not {total}")
    if total == 0:
        return (0.0,) * len(drops)
    free = [drop(total) == 0 for drop in drops]
    if any(free):
        return tuple(total / sum(free) if is_free else 0.0 for is_free in free)
    if len(drops) == 2:
        return _share_between_two(drops[0], drops[1], total)
    return _share_by_common_drop(drops, total)


def _share_between_two(first: Drop, second: Drop, total: float) -> tuple[float, float]:
    """Solve for the smaller share, since it suffers most from rounding; swapped paths swap their flows."""
    half = total / 2
    excess = first(half) - second(half)
    if excess == 0:
        return half, half
    small, large = (first, second) if excess > 0 else (second, first)

    def difference(fraction: float) -> float:
        return small(fraction * total) - large(total - fraction * total)

    found = total * _sign_change(difference, 0.5, at_end=abs(excess))
    sides = (found, found * (1 - BESIDE_A_JUMP), found * (1 + BESIDE_A_JUMP))
    share = min(sides, key=lambda flow: max(small(flow), large(total - flow)))
    return (share, total - share) if excess > 0 else (total - share, share)


def _share_by_common_drop(drops: Sequence[Drop], total: float) -> tuple[float, ...]:
    """Find the drop at which the flows add up to the total; it lies between those of equal shares."""
    equal_share = total / len(drops)
    at_equal_share = [drop(equal_share) for drop in drops]
    low, high = min(at_equal_share), max(at_equal_share)
    if low == high:
        return (equal_share,) * len(drops)

    def flows(common: float) -> list[float]:
        return [_flow_at(common, drop, total) for drop in drops]

    def surplus(weight: float) -> float:
        return sum(flows(low + weight * (high - low))) - total

    found = flows(low + _sign_change(surplus, 1.0) * (high - low))
    correction = total / sum(found)
    return tuple(flow * correction for flow in found)


def _flow_at(common: float, drop: Drop, total: float) -> float:
    found = total * _sign_change(lambda fraction: drop(fraction * total) - common, 1.0)
    return min(found, found * (1 - BESIDE_A_JUMP), key=lambda flow: max(common, drop(flow)))


def _sign_change(rising: Callable[[float], float], end: float, at_end: float | None = None) -> float:
    """Find where a never falling function changes sign in 0..end; the end itself where it does not."""
    at_start, at_end = rising(0.0), rising(end) if at_end is None else at_end
    if at_start >= 0:
        return 0.0
    if at_end <= 0:
        return end
    return root(rising, 0.0, end, xtol=ABSOLUTE_ACCURACY, rtol=RELATIVE_ACCURACY, maxiter=500, fa=at_start, fb=at_end)
