"""A look's colours for pictures that leave the page: mail and PDF know no variables.

Rules and values are read from the style sheets of the page, so that each colour stands in one
place.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

STATIC = Path(__file__).resolve().parents[1] / "static"
FONTS = tuple(
    str(STATIC / "vendor/dejavu" / name)
    for name in ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf")
)
FAMILY = "DejaVu Sans"
PRINT = "print"
# Looks whose pictures have larger letters and fewer of them.
DARK_LOOKS = frozenset(("night", "grey"))

COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
VALUE = re.compile(r"(--[\w-]+):\s*([^;]+);")
USE = re.compile(r"var\((--[\w-]+)\)")


@lru_cache(maxsize=8)
def colours(look: str) -> Mapping[str, str]:
    """Give the values of a look by their names: "--ink" and its like. Errors: KeyError."""
    sheet = _read("looks.css")
    chosen = r":root:root" if look == PRINT else rf':root\[data-look="{re.escape(look)}"\]'
    found = re.search(rf"{chosen}\s*\{{([^}}]*)\}}", sheet)
    if found is None:
        raise KeyError(look)
    return dict(VALUE.findall(found[1]))


@lru_cache(maxsize=8)
def style(look: str) -> str:
    """Give the rules of the brief's pictures with the colours of a look written out."""
    values = colours(look)
    own = f'[data-look="{look}"] '
    rules = [f".brief-picture{{font-family:'{FAMILY}';font-stretch:semi-condensed}}"]
    for selectors, body in RULE.findall(_outside_at_rules(_read("brief_pictures.css"))):
        kept = [
            one.replace(own, "") for one in map(str.strip, selectors.split(","))
            if "data-look" not in one or own in one
        ]  # fmt: skip
        if kept:
            written = USE.sub(lambda name: values[name[1]], " ".join(body.split()))
            rules.append(f"{','.join(kept)}{{{written}}}")
    return "\n".join(rules)


def _outside_at_rules(sheet: str) -> str:
    """Leave out every block that begins with @: which of them hold is for a browser to say."""
    return re.sub(r"@[^{]+\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}", "", sheet)


def _read(name: str) -> str:
    return COMMENT.sub("", (STATIC / "trips" / name).read_text("utf-8"))
