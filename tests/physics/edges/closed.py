"""Closed forms for drains, each by a map to a half-plane in which fixed heads lie on the edge.

A half-plane with fixed heads on [x1, x2] and [x3, x4] and none elsewhere passes k (h1 - h2) times
K(m) / K(1 - m), K the complete elliptic integral, m the cross-ratio of the four places.
"""
import mpmath

mpmath.mp.dps = 100


def passed(one, two, three, four):
    """Flow for unit conductivity and head; `one` may be minus infinity."""
    if one == -mpmath.inf:
        ratio = (four - three) / (four - two)
        rest = (three - two) / (four - two)
    else:
        ratio = (two - one) * (four - three) / ((three - one) * (four - two))
        rest = (three - two) * (four - one) / ((three - one) * (four - two))
    return mpmath.ellipk(ratio) / mpmath.ellipk(rest)


def drain_between_beds(half_drain, half_floor, depth):
    """A flush floor over soil of a depth, a drain in its middle: what the drain draws per head of the
    beds' mean over its own, and what passes from bed to drain where these differ the other way. The
    half strip goes to a half-plane by the square of tanh(pi x / 2 T)."""
    inner, outer = (mpmath.tanh(mpmath.pi * mpmath.mpf(half) / (2 * mpmath.mpf(depth))) ** 2
                    for half in (half_drain, half_floor))
    return 2 * passed(0, inner, outer, 1), passed(-mpmath.inf, inner, outer, 1)


def flows_between_beds(half_drain, half_floor, depth, up, drain, down):
    """(upstream inflow, drain's outflow, downstream outflow) over the conductivity."""
    even, odd = drain_between_beds(half_drain, half_floor, depth)
    drawn = even * ((up + down) / 2 - drain)
    over = odd * (up - down) / 2
    return float(drawn / 2 + over), float(drawn), float(over - drawn / 2)


def row_over_base(half_drain, spacing, depth):
    """A row of drains without end, `spacing` apart in a floor over soil that holds a head below: what one
    draws per conductivity and head. Half a cell is a rectangle, which sn maps."""
    half_drain, wide, deep = (mpmath.mpf(v) for v in (half_drain, spacing / 2, depth))
    # Rectangle 0..wide by 0..deep: K(m) / K(1 - m) = wide / deep by the nome.
    nome = mpmath.exp(-mpmath.pi * deep / wide)
    m = mpmath.mfrom(q=nome)
    whole = mpmath.ellipk(m)
    # sn^2 takes the drain's side [0, wide] to [0, 1], the base to [1/m, infinity].
    edge = mpmath.ellipfun("sn", whole * half_drain / wide, m=m) ** 2
    # Heads on [0, edge] and [1/m, infinity].
    ratio, rest = edge * m, 1 - edge * m
    return float(2 * mpmath.ellipk(ratio) / mpmath.ellipk(rest))
