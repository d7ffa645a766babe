"""How soon a Jupyter server notices a dead kernel: as we say, unless somebody has said so themselves."""

from types import SimpleNamespace

import pytest
from jupyter_client.restarter import KernelRestarter
from traitlets.config import Config

from sigcalc import jupyter_server


@pytest.mark.parametrize(("own", "seconds"), [({}, 1.0), ({"KernelRestarter": {"time_to_dead": 7.0}}, 7.0)])
def test_a_dead_kernel_is_noticed_within_a_second_or_as_somebody_wants(own, seconds):
    app = SimpleNamespace(config=Config(own))
    jupyter_server._load_jupyter_server_extension(app)
    assert KernelRestarter(config=app.config).time_to_dead == seconds
