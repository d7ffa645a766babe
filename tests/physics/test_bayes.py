"""Densities against the normal distribution's closed form, information against Shannon's cases."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import multivariate_normal, norm

from sigcalc.errors import RangeError
from sigcalc.physics.bayes import information, kernels, shares_of_bins


def density(samples, reading, noise, usable=None):
    usable = np.ones(samples.shape[:2], bool) if usable is None else usable
    found = kernels(samples, usable, reading, noise)
    return np.exp(found.log_density).mean(axis=1), found.distance


class TestDensity:
    @pytest.mark.parametrize("reading", [-1.0, 0.0, 1.5])
    def test_one_reading_of_a_normal_spread(self, reading):
        """Samples of spread 1 and a meter of 0.2: together a normal of the root of 1.04."""
        samples = np.random.default_rng(1).normal(size=(1, 4000, 1))
        found, _ = density(samples, [reading], [0.2])
        assert found[0] == pytest.approx(norm.pdf(reading, scale=np.sqrt(1.04)), rel=0.06)
        milli, _ = density(1e3 * samples, [1e3 * reading], [200.0])
        assert milli == pytest.approx(found / 1e3, rel=1e-9)  # the unit of a reading changes no ratio

    def test_three_readings_that_hang_together(self):
        """Readings that share two causes, read far more finely than they spread."""
        random = np.random.default_rng(2)
        mix = np.array([[1.0, 0.5], [1.0, -0.5], [2.0, 0.0]])
        samples = (random.normal(size=(4000, 2)) @ mix.T)[None]
        noise, reading = np.full(3, 0.02), np.array([0.7, 0.1, 0.8])
        found, _ = density(samples, reading, noise)
        exact = multivariate_normal.pdf(reading, cov=mix @ mix.T + np.diag(noise**2))
        assert found[0] == pytest.approx(exact, rel=0.1)
        broken, distance = density(samples, reading + np.array([0.0, 0.0, 0.3]), noise)
        assert broken[0] < 1e-15 * exact  # each within its own spread, but not together
        assert distance[0] > 70  # 0.3 over the root of three times 0.02, squared

    def test_a_spread_of_none_is_the_meter_alone(self):
        found, distance = density(np.full((1, 100, 1), 5.0), [5.3], [0.1])
        assert found[0] == pytest.approx(norm.pdf(5.3, 5.0, 0.1), rel=1e-9)
        assert distance[0] == pytest.approx(9.0)

    def test_smoothing_does_not_widen_the_spread(self):
        """The mean square away from the mean over all readings is the samples' own and the meter's."""
        samples = np.random.default_rng(3).normal(size=(1, 200, 1))
        grid = np.linspace(-6, 6, 400)
        share = np.array([density(samples, [at], [0.1])[0][0] for at in grid])
        share = share / share.sum()
        mean = (share * grid).sum()
        assert (share * (grid - mean) ** 2).sum() == pytest.approx(samples.var() + 0.01, rel=0.02)

    def test_samples_at_odds_count_for_nothing_and_nothing_read_tells_nothing(self):
        found = kernels(np.zeros((2, 100, 1)), np.array([[True] * 100, [False] * 100]), [0.0], [1.0])
        assert np.all(np.isneginf(found.log_density[1]))
        assert np.isinf(found.distance[1])
        assert np.isfinite(found.log_density[0]).all()
        found = kernels(np.empty((2, 5, 0)), np.ones((2, 5), bool), [], [])
        assert np.array_equal(found.log_density, np.zeros((2, 5)))


class TestInformation:
    @pytest.mark.parametrize("count", [2, 4, 5])
    def test_a_look_that_tells_all_and_one_that_tells_nothing(self, count):
        """Shannon: n equally likely causes hold log2 n bits."""
        assert information(np.eye(count)) == pytest.approx(np.log2(count))
        assert information(np.ones((count, 3))) == pytest.approx(0.0, abs=1e-12)

    def test_the_binary_channel(self):
        """A channel that errs with 0.11 passes 1 - H(0.11), half a bit (0.5001)."""
        assert information([[0.89, 0.11], [0.11, 0.89]]) == pytest.approx(0.5, abs=5e-4)

    @given(st.lists(st.lists(st.floats(0, 1), min_size=3, max_size=3), min_size=2, max_size=4))
    def test_bounds(self, table):
        shares = np.array(table)
        if shares.sum() > 1e-3:
            most = np.log2(min(shares.shape))
            assert -1e-9 <= information(shares) <= most + 1e-9


def test_weights_fall_on_their_bins():
    values, weights = (
        [[0.0, 1.0, 2.0, np.inf], [0.0, 0.0, np.inf, np.inf]],
        [[1.0, 2.0, 3.0, 4.0], [5.0, 6.0, 7.0, 8.0]],
    )
    assert shares_of_bins(values, weights, 2).tolist() == [[1.0, 5.0, 4.0], [11.0, 0.0, 15.0]]
    # without weight they do not stretch the bins
    assert shares_of_bins([[0.0, 1.0, 1e6]], [[1.0, 1.0, 0.0]], 2).tolist() == [[1.0, 1.0, 0.0]]
    assert shares_of_bins([[np.inf, np.inf]], [[1.0, 2.0]], 3).tolist() == [[0.0, 0.0, 0.0, 3.0]]


def test_no_weight_is_refused():
    with pytest.raises(RangeError, match="some weight"):
        information(np.zeros((2, 2)))
