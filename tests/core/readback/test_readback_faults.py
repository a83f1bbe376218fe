"""What an exception code of a drive is told as, and whether asking again may help."""

import pytest

from core.readback import faults


@pytest.mark.parametrize("code", [1, 2, 3, 4, 8])
def test_a_drive_that_declines_is_told_with_its_code(code):
    fault = faults.of_exception(code)
    assert isinstance(fault, faults.DeclinedError)
    assert f"(code {code})" in fault.reason


@pytest.mark.parametrize("code", [5, 6, 10, 11])
def test_a_drive_that_cannot_now_may_be_asked_again(code):
    assert isinstance(faults.of_exception(code), faults.BusyError)


def test_a_code_that_no_specification_names_is_told_as_it_is():
    assert faults.of_exception(77).reason == "The drive declined: code 77."


def test_another_drive_is_named():
    assert faults.other_drive(9, 4) == "Address 9 replied instead of 4."


def test_every_fault_tells_its_reason():
    kinds = (faults.UnansweredError, faults.DeclinedError, faults.BusyError, faults.LinkLostError)
    assert all(str(kind("why")) == kind("why").reason == "why" for kind in kinds)
    assert faults.StoppedError().reason == faults.STOPPED
