"""The checks of arguments that every module shares: what they let through, and the sentence for the rest."""

import numpy as np
import pytest

from mosaickit import errors
from mosaickit.errors import OptionError


def test_the_tree_is_as_its_docstring_draws_it():
    drawn = [line.split() for line in errors.__doc__.splitlines() if line.startswith("    ")]
    assert {line[0] for line in drawn} == {
        name for name, kind in vars(errors).items() if isinstance(kind, type) and issubclass(kind, Exception)
    }
    assert all(issubclass(getattr(errors, line[0]), errors.MosaickitError) for line in drawn)


def test_one_of_lists_every_choice():
    errors.one_of("hand", "right", ("right", "left"))
    with pytest.raises(OptionError, match=r"`hand` must be one of 'right', 'left', 'both'; got 'up'\."):
        errors.one_of("hand", "up", ("right", "left", "both"))


@pytest.mark.parametrize("value", [3, np.int64(3), np.uint8(3)])
def test_a_whole_number_of_any_kind_is_one(value):
    assert type(errors.whole_number("up", value)) is int


@pytest.mark.parametrize("value", [True, np.True_, 2.0, "3", None, -1, np.array([]), np.ones(2, int)])
def test_what_is_no_whole_number_is_refused(value):
    with pytest.raises(OptionError, match=r"`up` must be a whole number of 0 or more; got"):
        errors.whole_number("up", value)


@pytest.mark.parametrize("value", [0, -1, float("nan"), float("inf"), 10**400, True, np.True_, "3", None, 1j])
def test_what_is_no_positive_number_is_refused(value):
    with pytest.raises(OptionError, match=r"`width` must be a number of cm above 0; got"):
        errors.positive("width", value, "cm")


@pytest.mark.parametrize("value", [3, 0.5, np.float32(0.5), np.int16(2)])
def test_a_positive_number_comes_back_as_a_float(value):
    assert errors.positive("width", value) == value
    assert type(errors.positive("width", value)) is float


@pytest.mark.parametrize("value", [-0.1, 10.1, float("nan"), "3"])
def test_what_lies_outside_its_limits_is_refused(value):
    with pytest.raises(OptionError, match=r"`ease` must be a number from 0 to 10; got"):
        errors.within("ease", value, 0, 10)
