"""Public holidays of a whole country: days on which roads, beds and viewpoints fill up.

From the `holidays` package; those of a region are not among them.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date
from functools import lru_cache

import holidays
from django.utils.translation import get_language, to_locale


def public_holidays(country: str, first: date, last: date) -> dict[date, str]:
    """Give the days from first to last with their names, in the reader's language where it is
    known. Of a country that is not known (two letters, ISO 3166-1) there are none."""
    locale = to_locale(get_language() or "en")
    return {
        day: name
        for year in range(first.year, last.year + 1)
        for day, name in _of_year(country, year, locale)
        if first <= day <= last
    }


# A season of every site of a club asks for the same few years.
@lru_cache(maxsize=256)
def _of_year(country: str, year: int, locale: str) -> tuple[tuple[date, str], ...]:
    code = country.upper()
    if code not in holidays.list_supported_countries():
        return ()
    calendar = holidays.country_holidays(code)
    language = _nearest(calendar.supported_languages, locale) or calendar.default_language
    days = holidays.country_holidays(code, years=year, language=language)
    return tuple(sorted(days.items()))


def _nearest(known: Collection[str], locale: str) -> str | None:
    """Give the language of these that is the reader's, or nearest to it."""
    if locale in known:
        return locale
    language, _, _ = locale.partition("_")
    same = (each for each in sorted(known) if each.partition("_")[0] == language)
    return next(same, None)
