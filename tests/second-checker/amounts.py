"""Numbers of plan-format.md: lengths in whole nanometres, money in whole units, everything else exact fractions."""

from decimal import Decimal, getcontext
from fractions import Fraction
from math import floor

getcontext().prec = 60
PI = Fraction("3.14159265358979323846")
# A hair: a decimal of 28 digits may leave an exact half, or an exact whole unit, this far to either side.
HAIR = Fraction(1, 10 ** 12)
NM2_PER_CM2 = 10 ** 14
NM3_PER_CM3 = 10 ** 21


def fraction(number):
    """A number of the file, exact. Files are read with Decimal for every number."""
    return Fraction(number)


def nm(millimetres):
    length = Fraction(millimetres) * 1_000_000
    if length.denominator != 1:
        raise ValueError(f"{millimetres} mm is not a whole number of nanometres")
    return int(length)


def units(amount):
    money = Fraction(amount) * 10_000
    if money.denominator != 1:
        raise ValueError(f"{amount} is not a whole number of units of money")
    return int(money)


def half_away(value):
    return floor(value + Fraction(1, 2)) if value >= 0 else -floor(-value + Fraction(1, 2))


def nearest(amount):
    """All whole units that 'nearest' of this amount may be: one, or two beside an exact half."""
    value = amount * 10_000
    return {half_away(value - HAIR), half_away(value), half_away(value + HAIR)}


def rounded(amount):
    """The whole units of an amount where its exact half goes away from zero."""
    return half_away(amount * 10_000)


def down(amount):
    """All whole units that 'down' of this amount may be: one, or two beside a whole unit."""
    value = amount * 10_000
    return {floor(value - HAIR), floor(value)}


def up(value):
    return -floor(-value)


def circle(diameter):
    """Area of a circle in whole square nanometres."""
    return floor(Fraction(diameter) ** 2 * PI / 4)


def _sin_cos(degrees):
    """By their series, to 50 digits."""
    angle = Decimal(degrees.numerator) / Decimal(degrees.denominator) * _PI60 / 180
    sine = cosine = Decimal(0)
    term = Decimal(1)
    for step in range(0, 80):
        if step % 2:
            sine += term if step % 4 == 1 else -term
        else:
            cosine += term if step % 4 == 0 else -term
        term = term * angle / (step + 1)
    return sine, cosine


_PI60 = Decimal("3.14159265358979323846264338327950288419716939937510582097494")


def secant(angle):
    size = abs(angle)
    if size in (0, 60):
        return Fraction(1) if size == 0 else Fraction(2)
    return 1 / Fraction(_sin_cos(size)[1])


def tangent(angle):
    size = abs(angle)
    if size in (0, 45):
        return Fraction(size, 45)
    sine, cosine = _sin_cos(size)
    return Fraction(sine) / Fraction(cosine)


def share_out(amount, weights):
    """An amount shared by weights: down, then one by one to the largest remainders, the first of equal ones."""
    sign = -1 if amount < 0 else 1
    size, whole = abs(amount), sum(weights)
    shares = [weight * size // whole for weight in weights]
    left = size - sum(shares)
    order = sorted(range(len(weights)), key=lambda at: (-(weights[at] * size % whole), at))
    for at in order[:left]:
        shares[at] += 1
    return [sign * share for share in shares]
