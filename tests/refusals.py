"""One test for all refusals of a file."""

from functools import partial

import pytest

from sigcalc.errors import SigcalcError


def refused(*cases):
    """A test that an error of ours refuses each call; a case is the call, and words (a pattern) of the sentence."""

    @pytest.mark.parametrize(("call", "said"), cases)
    def test(call, said):
        with pytest.raises(SigcalcError, match=said) as refusal:
            call()
        assert len(str(refusal.value)) < 400

    return test


def wishes_refused(function, usual, *cases):
    """The same of one function; a case is what differs from the usual keyword arguments, and the words."""
    return refused(*((partial(function, **usual | changed), said) for changed, said in cases))
