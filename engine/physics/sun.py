"""The sun: how many hours at full strength a panel gets in a day, from latitude, month, tilt and the usual sky.

Angles in degrees, north positive; months 1 to 12; a peak sun hour is 1 kWh/m² in a day. The geometry is good to
1 % up to 50° from the equator and to 2 % at 60°; the sky is a long-term mean, so a bad week brings far less, and a
winter month may fall short by ``DOUBT``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

SOLAR_CONSTANT = 1367.0
"""Irradiance at right angles to the sun above the air, at its mean distance [W/m²] (fao-56)."""

MONTH_DAYS = (17, 45, 74, 105, 135, 161, 199, 230, 261, 292, 322, 347)
"""The day of the year that stands for each month (solar-month-days)."""

SKIES = {"clear": 0.65, "mixed": 0.5, "cloudy": 0.35}
"""Clearness index of a month: the share of the sun above the air that reaches level ground (own-estimate)."""

DOUBT = 0.30
"""How far the mean day of a winter month may fall short of the estimate for a tilted panel (own-estimate)."""

GROUND = 0.2
"""Share of the light that bare ground or grass throws back (common-practice)."""


def declination(day: int) -> float:
    """Declination of the sun [°] on ``day`` of the year, 1 to 366, within 0.3° in any year (sun-place-memory).

    >>> round(declination(172), 1), round(declination(80), 1)
    (23.4, 0.1)
    """
    along = 0.9856 * (day - 1)
    anomaly = math.radians(357.5 + along)
    longitude = math.radians(280.5 + along + 1.915 * math.sin(anomaly) + 0.02 * math.sin(2 * anomaly))
    return math.degrees(math.asin(math.sin(math.radians(23.44)) * math.sin(longitude)))


def nearness(day: int) -> float:
    """How much stronger than usual the sun is for the earth's distance on ``day`` (fao-56, equation 23).

    >>> round(nearness(246), 3)
    0.985
    """
    return 1 + 0.033 * math.cos(2 * math.pi * day / 365)


def sunset_angle(latitude: float, day: int) -> float:
    """Hour angle of sunset [°], 0 in the polar night to 180 in the polar day (fao-56, equation 25).

    >>> round(sunset_angle(-20, 246))
    87
    """
    return _sunset(math.radians(latitude), math.radians(declination(day)))


def above_air(latitude: float, day: int) -> float:
    """Irradiation of level ground in a day if there were no air [kWh/m²] (fao-56, equation 21).

    >>> round(above_air(0, 80), 1)
    10.5
    """
    tilted = _lit(math.radians(latitude), math.radians(declination(day)), sunset_angle(latitude, day))
    return 24 / math.pi * SOLAR_CONSTANT / 1000 * nearness(day) * max(tilted, 0.0)


def clear_day(latitude: float, day: int) -> float:
    """Irradiation of level ground in a day without a cloud [kWh/m²]: 1098·c·exp(-0.057/c) W/m², c the sine of the
    sun's height, summed every 6 minutes (clear-sky-memory).

    >>> round(clear_day(35, 172), 1)
    8.8
    """
    here, declined = math.radians(latitude), math.radians(declination(day))
    sines = (
        math.sin(here) * math.sin(declined) + math.cos(here) * math.cos(declined) * math.cos(math.radians(angle * 1.5))
        for angle in range(-120, 120)
    )
    return sum(1.098 * one * math.exp(-0.057 / one) for one in sines if one > 0) / 10


def diffuse_share(clearness: float) -> float:
    """Share of a month's light on level ground that comes from the whole sky: 1 - 1.13·K (isotropic-sky-memory).

    Meant for K from 0.3 to 0.8; held between 0.1 and 1 outside.

    >>> round(diffuse_share(0.5), 3)
    0.435
    """
    return min(max(1 - 1.13 * clearness, 0.1), 1.0)


def tilt_ratio(latitude: float, month: int, tilt: float, clearness: float) -> float:
    """Light on a panel raised by ``tilt`` [°, 0 to 90] towards the equator over that on level ground.

    Beam by the ratio of the daily sums, sky light the same from everywhere, ground light by ``GROUND``
    (isotropic-sky-memory).

    >>> round(tilt_ratio(50, 12, 60, 0.35), 1)
    2.2
    """
    sky, beam = diffuse_share(clearness), _beam_ratio(latitude, MONTH_DAYS[month - 1], tilt)
    up = (1 + math.cos(math.radians(tilt))) / 2
    return (1 - sky) * beam + sky * up + GROUND * (1 - up)


def peak_sun_hours(latitude: float, month: int, clearness: float, tilt: float = 0.0) -> float:
    """Peak sun hours of a mean day of ``month`` [h] on a panel raised by ``tilt`` [°] towards the equator.

    No clearer than a day without a cloud.

    >>> round(peak_sun_hours(50, 12, 0.35), 2)
    0.74

    Raises:
        ValueError: the latitude, month, tilt or clearness cannot be.

    """
    if not (-90 <= latitude <= 90 and 1 <= month <= 12 and 0 <= tilt <= 90 and 0 <= clearness <= 1):
        raise ValueError("latitude -90 to 90, month 1 to 12, tilt 0 to 90, clearness 0 to 1")
    above, clear = above_air(latitude, MONTH_DAYS[month - 1]), clear_day(latitude, MONTH_DAYS[month - 1])
    level = min(clearness * above, clear)
    return level * tilt_ratio(latitude, month, tilt, level / above) if level else 0.0


def worst_month(latitude: float, clearness: float | Sequence[float], tilt: float = 0.0) -> tuple[int, float]:
    """The month with the fewest peak sun hours, and those hours [h]; ``clearness`` for the year or for each month.

    >>> month, hours = worst_month(50, 0.35, 60)
    >>> month, round(hours, 1)
    (12, 1.6)

    Raises:
        ValueError: as ``peak_sun_hours``, or not twelve clearness figures.

    """
    sky = [clearness] * 12 if isinstance(clearness, (int, float)) else list(clearness)
    if len(sky) != 12:
        raise ValueError("twelve clearness figures, January first")
    hours = [peak_sun_hours(latitude, month, sky[month - 1], tilt) for month in range(1, 13)]
    least = min(hours)
    return hours.index(least) + 1, least


def _sunset(latitude: float, declined: float) -> float:
    cosine = -math.tan(latitude) * math.tan(declined)
    return math.degrees(math.acos(min(max(cosine, -1.0), 1.0)))


def _lit(latitude: float, declined: float, sunset: float) -> float:
    """The day's sum of the sine of the sun's height over a plane that lies as the ground of ``latitude`` does."""
    angle = math.radians(sunset)
    return angle * math.sin(latitude) * math.sin(declined) + math.cos(latitude) * math.cos(declined) * math.sin(angle)


def _beam_ratio(latitude: float, day: int, tilt: float) -> float:
    """A panel raised towards the equator lies as level ground does ``tilt`` nearer to it, while the sun is up here."""
    north = 1 if latitude >= 0 else -1
    here, declined = math.radians(abs(latitude)), math.radians(north * declination(day))
    there = here - math.radians(tilt)
    sunset = _sunset(here, declined)
    level = _lit(here, declined, sunset)
    return max(_lit(there, declined, min(sunset, _sunset(there, declined))), 0.0) / level if level > 1e-9 else 0.0
