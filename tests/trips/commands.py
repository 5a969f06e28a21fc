"""A command as its tests run it: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import io
import json
from dataclasses import dataclass
from typing import Any

import pytest
from django.core.management import CommandError, call_command


@dataclass(frozen=True, slots=True)
class CommandLine:
    name: str

    def printed(self, *arguments: str) -> tuple[str, str]:
        """Give what stands on the output and on the error stream."""
        out, err = io.StringIO(), io.StringIO()
        call_command(self.name, *arguments, stdout=out, stderr=err)
        return out.getvalue(), err.getvalue()

    def as_json(self, *arguments: str) -> list[dict[str, Any]]:
        records: list[dict[str, Any]] = json.loads(self.printed(*arguments, "--format", "json")[0])
        return records

    def refusal(self, *arguments: str) -> str:
        """Give the sentence of a refusal, which prints nothing and ends with exit code 2."""
        out = io.StringIO()
        with pytest.raises(CommandError) as refused:
            call_command(self.name, *arguments, stdout=out)
        assert refused.value.returncode == 2
        assert out.getvalue() == ""
        return str(refused.value)
