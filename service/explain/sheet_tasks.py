"""The steps of an assembly sheet that make no joint: which words are theirs."""

from collections.abc import Callable

from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step, Task
from service.explain import (
    sheet_addons,
    sheet_finishing,
    sheet_fitting,
    sheet_hoses,
    sheet_regulator,
    sheet_undoing,
)
from service.explain.sheet_words import Words

_Worded = Callable[[Step, Sheet, Request, Revision], Words]


def task_words(step: Step, sheet: Sheet, request: Request, revision: Revision) -> Words:
    """The words of a step that makes no joint."""
    return _WORDS[step.task](step, sheet, request, revision)


def _same(words: Words) -> _Worded:
    return lambda *_: words


_WORDS: dict[Task, _Worded] = {
    "relieve": _same(sheet_undoing.RELIEVE),
    "battery": _same(sheet_undoing.BATTERY),
    "lines-off": _same(sheet_undoing.LINES_OFF),
    "rail-off": sheet_undoing.rail_off,
    "clean": sheet_undoing.clean,
    "ring": sheet_fitting.ring,
    "connector": sheet_fitting.connector,
    "injector-rings": sheet_fitting.injector_rings,
    "injectors": sheet_fitting.injectors_in,
    "spacer": sheet_fitting.spacer,
    "rail": sheet_fitting.rail,
    "own-rail": sheet_fitting.own_rail,
    "screw": sheet_fitting.screw,
    "clip": sheet_finishing.clip,
    "hold": sheet_finishing.hold,
    "lay": sheet_hoses.lay,
    "addon-on": sheet_addons.addon_on,
    "reference-hose": sheet_regulator.reference_hose,
    "regulate-elsewhere": sheet_regulator.regulate_elsewhere,
    "reconnect": sheet_finishing.reconnect,
    "prime": sheet_finishing.prime,
    "pressurise": sheet_finishing.pressurise,
    "set-pressure": sheet_regulator.set_pressure,
    "set-elsewhere": sheet_regulator.set_elsewhere,
    "idle": sheet_finishing.idle,
    "heat": sheet_finishing.heat,
}
