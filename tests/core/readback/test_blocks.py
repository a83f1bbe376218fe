"""Blocks of registers: few, never too long, no setting torn, none forgotten."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.readback.blocks import GAP, LONGEST, alone, plan_blocks
from core.readback.registers import RegisterForm


def shapes(*forms):
    return [(block.table, block.first, block.count) for block in plan_blocks(forms)]


def test_a_gap_is_read_over_up_to_its_limit():
    assert shapes(RegisterForm(10), RegisterForm(11 + GAP)) == [("holding", 10, GAP + 2)]
    assert len(shapes(RegisterForm(10), RegisterForm(12 + GAP))) == 2


def test_a_block_is_never_longer_than_a_reply_can_be():
    assert shapes(*(RegisterForm(n) for n in range(126))) == [
        ("holding", 0, 125), ("holding", 125, 1)
    ]  # fmt: skip


def test_two_words_are_not_torn_at_the_limit():
    forms = [*(RegisterForm(n) for n in range(124)), RegisterForm(124, "u32")]
    assert shapes(*forms) == [("holding", 0, 124), ("holding", 124, 2)]


def test_tables_are_read_apart():
    assert shapes(RegisterForm(1, table="input"), RegisterForm(1)) == [
        ("holding", 1, 1), ("input", 1, 1)
    ]  # fmt: skip


def test_settings_share_a_register_and_lie_inside_of_each_other():
    bits = [RegisterForm(5, first_bit=n, bits=1) for n in range(16)]
    (block,) = plan_blocks([*bits, RegisterForm(4, "u32")])
    assert (block.first, block.count, len(block.forms)) == (4, 2, 17)


def test_each_setting_gets_its_own_words():
    (block,) = plan_blocks([RegisterForm(10), RegisterForm(12, "u32")])
    assert dict(block.shares((7, 8, 9, 10))) == {
        RegisterForm(10): (7,),
        RegisterForm(12, "u32"): (9, 10),
    }


def test_nothing_to_read_is_no_block():
    assert plan_blocks([]) == ()


@given(
    st.lists(
        st.builds(
            RegisterForm,
            st.integers(0, 400),
            st.sampled_from(["u16", "u32"]),
            table=st.sampled_from(["holding", "input"]),
        )
    ),
    st.integers(0, 20),
    st.integers(2, LONGEST),
)
def test_every_setting_is_wholly_in_exactly_one_block(forms, gap, longest):
    blocks = plan_blocks(forms, gap=gap, longest=longest)
    assert sorted(map(hash, (form for block in blocks for form in block.forms))) == sorted(
        map(hash, set(forms))
    )
    for block in blocks:
        assert 1 <= block.count <= longest
        for form in block.forms:
            assert form.table == block.table
            assert block.first <= form.register
            assert form.last < block.first + block.count


@pytest.mark.parametrize(("kind", "count"), [("s16", 1), ("f32", 2)])
def test_a_setting_alone(kind, count):
    block = alone(RegisterForm(3, kind))
    assert (block.first, block.count) == (3, count)
