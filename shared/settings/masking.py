"""Private links stay out of every log: whoever reads one must not be able to open them.

What follows /b/, /c/, /j/ and /h/ is taken out of each record when it is made, so that it does not
matter who logs (Django, the server, a worker), to which handler, or with which words; an exception
and its trace are masked too.
"""

from __future__ import annotations

import logging
import re
import traceback
from collections.abc import Mapping
from typing import Any

# The slash before it is missing where an address is relative; what is cut off is still secret.
_LINK = re.compile(r"(?<![A-Za-z0-9_-])([bcjh]/)[A-Za-z0-9_-]{6,}")


def masked(text: str) -> str:
    return _LINK.sub(r"\1…", text)


def mask_every_record() -> None:
    """Make logging's records masked ones, from now on and in this whole process."""
    logging.setLogRecordFactory(_record)


def _record(*arguments: Any, **options: Any) -> logging.LogRecord:
    record = logging.LogRecord(*arguments, **options)
    record.msg = _masked_value(record.msg)
    record.args = _masked_arguments(record.args)
    if record.exc_info and record.exc_info[0] is not None:
        # Formatters print this text where there is one, and not the trace.
        record.exc_text = masked("".join(traceback.format_exception(*record.exc_info))).rstrip()
    return record


def _masked_arguments(arguments: Any) -> Any:
    if isinstance(arguments, Mapping):
        return {name: _masked_value(value) for name, value in arguments.items()}
    return tuple(_masked_value(value) for value in arguments or ())


def _masked_value(value: Any) -> Any:
    """Mask what is or becomes text; numbers stay what their formats ask for."""
    if value is None or isinstance(value, (int, float, complex)):
        return value
    return masked(str(value)) if _LINK.search(str(value)) else value
