"""A help in the Jupyter server: it looks every second, not every third, whether a kernel has died.

The panels can only say so once the server has noticed. Installed as a server extension (pyproject.toml), since a server
reads nothing else from the folder where packages leave their settings.
"""

from __future__ import annotations

from typing import Any

_SECONDS = 1.0


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": __name__}]


def _load_jupyter_server_extension(app: Any) -> None:
    """Called by the server before any kernel is started; what somebody has set themselves holds."""
    if "time_to_dead" not in app.config.KernelRestarter:
        app.config.KernelRestarter.time_to_dead = _SECONDS
