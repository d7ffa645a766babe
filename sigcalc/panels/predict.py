"""Predicting before the panel and looking back after it: `Predict` asks, `YouSaid` answers, and neither blames.

A panel whose first picture answers a guess is shown `after_guess`.

The answer is covered until it is asked for: before that it is nowhere in the page or in the saved notebook, so that
somebody who only scrolls past, or a room that has not voted yet, does not read it.
"""

from __future__ import annotations

import html
from collections.abc import Callable

import ipywidgets as widgets
from traitlets import HasTraits, Unicode

from ..lessons import Prediction
from ..lessons.progress import PROGRESS, Answer
from .afresh import key_of, when_afresh
from .base import Panel
from .control import Button, stylesheet

Made = Callable[[], Prediction]
SHOW, COVER = "Show the answer", "Cover it again"
ANSWER = "sigcalc-answer"
"""The class of what may show an answer: `jupyterlab_lessons` empties it in the notebook that is saved."""


class _Guess(HasTraits):
    """What was guessed, "" for nothing: shared by the cell that asks and the cell that looks back."""

    said = Unicode()

    def __init__(self, made: Made):
        super().__init__()
        self.key, self.prediction = key_of(made), made()
        kept = PROGRESS.answer(self.key)
        if kept is not None and kept.said in self.prediction.options:
            self.said = kept.said
        when_afresh(made, self.forget)

    def choose(self, said: str) -> None:
        """Take a guess, and remember it."""
        if said != self.said:
            PROGRESS.keep(self.key, Answer(said))
            self.said = said

    def forget(self) -> None:
        """As if nothing had been guessed yet."""
        self.said = ""


_GUESSES: dict[str, _Guess] = {}


def _guess(made: Made) -> _Guess:
    """The one guess of a prediction in this kernel."""
    key = key_of(made)
    if key not in _GUESSES:
        _GUESSES[key] = _Guess(made)
    return _GUESSES[key]


class _Ask(widgets.VBox):
    """One prediction with its options as radio buttons; it only says what was chosen."""

    def __init__(self, made: Made, number: str):
        self.guess = _guess(made)
        prediction = self.guess.prediction
        asked = widgets.HTML(f"<p><b>{number}</b>{html.escape(prediction.text)}</p>")
        self.options = widgets.RadioButtons(options=list(prediction.options), value=self.guess.said or None)
        self.told = widgets.HTML(layout=widgets.Layout(min_height="1.6em"))
        super().__init__([asked, self.options, self.told])
        self.options.observe(lambda change: change["new"] and self.guess.choose(change["new"]), names="value")
        self.guess.observe(lambda _: self._show(), names="said")
        self._show()

    def _show(self) -> None:
        said = self.guess.said
        self.options.value = said or None
        self.told.value = f'<p role="status">Your guess: {html.escape(said)}.</p>' if said else ""


class Predict(widgets.VBox):
    """Asks for a guess at each of the predictions that the functions `made` make."""

    def __init__(self, *made: Made):
        numbers = [f"{number}. " for number in range(1, len(made) + 1)] if len(made) > 1 else [""]
        self.asked = [_Ask(each, number) for each, number in zip(made, numbers, strict=True)]
        super().__init__([stylesheet(), *self.asked])
        self.add_class("sigcalc-exercise")


class _LookBack(widgets.VBox):
    """What was guessed at one prediction, and a button that shows and covers what the panel has shown."""

    def __init__(self, made: Made):
        self.guess = _guess(made)
        self.told = widgets.HTML()
        self.told.add_class(ANSWER)
        self.button = Button(description=SHOW, tooltip=f"The answer to: {self.guess.prediction.text}")
        self.button.layout.align_self = "flex-start"
        super().__init__([self.told, self.button])
        self.button.on_click(lambda _: self.cover() if self.shown else self.show())
        self.guess.observe(lambda _: self.cover(), names="said")
        when_afresh(made, self.cover)
        self.cover()

    @property
    def shown(self) -> bool:
        """Whether the answer is on the page."""
        return self.button.description == COVER

    def show(self) -> None:
        """Say to the guess, or to none, what the panel has shown."""
        self._say(self.guess.prediction.told(self.guess.said), COVER)

    def cover(self) -> None:
        """Say the guess alone."""
        self._say(self.guess.prediction.repeated(self.guess.said), SHOW)

    def _say(self, words: str, then: str) -> None:
        self.told.value = f'<p role="status">{html.escape(words)}</p>'
        self.button.description = then


class YouSaid(widgets.VBox):
    """Looks back at each of the guesses; a guess that is changed is covered again."""

    def __init__(self, *made: Made):
        self.looked_back = [_LookBack(each) for each in made]
        super().__init__([stylesheet(), *self.looked_back])
        self.add_class("sigcalc-exercise")


class _Curtain(widgets.VBox):
    """Stands in the place of a panel's picture until each of the guesses is made, or the picture is asked for."""

    def __init__(self, panel: Panel, made: tuple[Made, ...]):
        self.panel, self.guesses = panel, [_guess(each) for each in made]
        asked = " ".join(f"“{html.escape(guess.prediction.text)}”" for guess in self.guesses)
        told = widgets.HTML(f"<p>Guess first, above: {asked} This picture gives it away.</p>")
        self.button = Button(description="Show the picture", tooltip="The picture, without a guess")
        self.button.layout.align_self = "flex-start"
        super().__init__([told, self.button])
        self.layout.min_height = panel.view.layout.min_height  # so that the page stays where it is
        self.add_class("sigcalc-curtain")
        self.button.on_click(lambda _: self.uncover())
        for each, guess in zip(made, self.guesses, strict=True):
            guess.observe(lambda _: self.look(), names="said")
            when_afresh(each, self.cover)
        self.cover()
        self.look()

    def cover(self) -> None:
        """Cover the picture."""
        self.panel.add_class("sigcalc-unguessed")

    def uncover(self) -> None:
        """Show the picture."""
        self.panel.remove_class("sigcalc-unguessed")

    def look(self) -> None:
        """Show the picture once all has been guessed."""
        if all(guess.said for guess in self.guesses):
            self.uncover()


def after_guess(panel: Panel, *made: Made) -> Panel:
    """The panel, its picture covered until these guesses are made or it is asked for; the stage shows it at once."""
    panel.columns.children = (*panel.columns.children, _Curtain(panel, made))
    return panel
