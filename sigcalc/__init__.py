"""sigcalc: working LED signals for model railways, from the first resistor to the passing train.

The public names are loaded when they are first used (PEP 562), so that
`import sigcalc.physics.diode` loads neither pint nor matplotlib.
"""

from importlib import import_module
from typing import Any

_HOMES = {
    "errors": ("SigcalcError", "UnitError", "RangeError", "UnknownNameError", "DesignError", "PlanError"),
    "units": ("Q",),
    "parts": (),
    "design": (),
    "plan": (),
}
_HOME = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME)  # noqa: PLE0605 computed from the one table above


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"sigcalc has no {name!r}; it has {', '.join(__all__)}")
    value = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
