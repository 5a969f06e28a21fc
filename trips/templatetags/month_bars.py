"""The months of a site in the table of sites: hours above and below a bar.

Cells are put together as text: a season of many sites has thousands of them.
"""

from __future__ import annotations

from collections.abc import Sequence

from django import template
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from trips.charts.bars import WIDTH, Bar, bar
from trips.planning.comparing import MonthHours
from trips.templatetags.comparing import whole

register = template.Library()


@register.simple_tag
def month_bars(months: Sequence[MonthHours | None], tallest_hours: float) -> SafeString:
    """Give the cells of a row, of which a month without a computed night says so."""
    shut, not_computed = escape(_("shut")), escape(_("not computed"))
    absent = _cell(f'–<i class="visually-hidden">{not_computed}</i>', "", "")
    cells = (_month(month, shut, tallest_hours) if month else absent for month in months)
    # Figures, our own drawing and escaped words.
    return mark_safe("".join(cells))  # noqa: S308


def _month(month: MonthHours, shut: str, tallest_hours: float) -> str:
    drawn = bar(month.ink, month.usable, tallest_hours=tallest_hours)
    if month.is_closed:
        below = f'<b class="nil">{shut}</b>'
    elif drawn and drawn.foot:
        below = f"<b>{whole(month.usable)}</b>"
    else:
        below = '<b class="nil">0</b>'
    return _cell(whole(month.ink), _picture(drawn) if drawn else "", below)


def _cell(above: str, picture: str, below: str) -> str:
    return f'<td class="m"><span>{above}</span>{picture}{below or "<b></b>"}</td>'


def _picture(drawn: Bar) -> str:
    foot = f'<path class="bar-usable" d="{drawn.foot}"/>' if drawn.foot else ""
    return (
        f'<svg aria-hidden="true" width="{drawn.width_em}" height="{drawn.height_em}" '
        f'viewBox="0 0 {WIDTH} {drawn.height}"><path class="bar-ink" d="{drawn.ink}"/>{foot}</svg>'
    )
