"""How much room the terminal gives, and data for machines."""

from __future__ import annotations

import json
import shutil


def width() -> int:
    """Columns to write in: the terminal's, within what reads well."""
    return max(60, min(shutil.get_terminal_size((100, 24)).columns, 110))


def dump(data: object) -> str:
    """One JSON object on one line."""
    return json.dumps(data, ensure_ascii=False, allow_nan=False)
