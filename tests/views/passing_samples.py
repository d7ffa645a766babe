"""Pictures of the passing train, usual ones and extremes, for the tests that hold for all pictures."""

from sigcalc.design.train.hold import hold_at
from sigcalc.design.train.passing_odds import passing_odds
from sigcalc.design.train.passing_train import passing_train
from sigcalc.parts.magnet import Magnet
from sigcalc.parts.reed import Reed, reeds
from sigcalc.views.let_the_train_do_it import VIEWS, HoldCurve, closures_picture, odds_picture, passing_timeline
from sigcalc.views.track import track_picture
from tests.design.train.passing_runs import circuit, run

PASSINGS = {
    "usual": {},
    "never": {"orientation": "crosswise"},
    "other way": {"backwards": True},
    "halt": {"stop_at": "10 mm", "stop_time": "100 s"},
    "two reds": {"last_magnet": "860 mm", "speed": "0.02 m/s", "coil_fed_for": "green"},
    "short and far": {"length": "50 mm", "clearing_distance": "8 m", "speed": "5 m/s"},
    "long and near": {"length": "9 m", "clearing_distance": "0 m", "speed": "0.005 m/s", "reed_beyond": "0 m"},
}


def passing_pictures(size):
    """Each with its name."""
    for name, changes in PASSINGS.items():
        result = passing_train(run(**changes))
        for share in (0.0, 0.12, 0.5, 1.0):
            yield f"track {name} {share}", track_picture(result, share * result.si.end, size)
        for view in VIEWS:
            yield f"timeline {name} {view}", passing_timeline(result, view, result.si.at_signal, size=size)
        yield f"timeline {name} brief", passing_timeline(result, VIEWS[0], result.si.clear, True, size)
    middle = reeds["10 W reed, 7 to 21 AT"].middle
    yield "closures usual", closures_picture("8 x 3 mm disc, N35", middle, "5 mm", size=size)
    yield "closures none", closures_picture("3 x 1 mm disc, N35", middle, "80 mm", size=size)
    strong = Magnet("50 mm", "50 mm", "1.4 T")
    yield "closures far", closures_picture(strong, Reed("0.1 mT", "0.01 mT"), "1 mm", ["upright", "crosswise"], size)
    for name, made, wanted in (
        ("usual", circuit(), "10 s"),
        ("leaky", circuit("schmitt gate", "wide-tolerance electrolytic", "1 Mohm"), "30 s"),
        ("little", circuit(pot="10 kohm"), None),
    ):
        yield f"hold {name}", HoldCurve().picture(hold_at(made, "9 V", 1.0), wanted, size)
    for name, changes in (("usual", {}), ("never", {"orientation": "crosswise"}), ("half", {"turn": 0.2})):
        yield f"odds {name}", odds_picture(passing_odds(run(**changes), samples=100), size)
