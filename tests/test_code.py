"""The short code: every slip of a pencil is found."""

from __future__ import annotations

from itertools import combinations, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.binder.code import ALPHABET, code, digest, is_code

fingerprints = st.text("0123456789abcdef", min_size=64, max_size=64)


@given(fingerprints)
def test_code_is_well_formed(fingerprint: str) -> None:
    assert is_code(code(fingerprint))
    assert is_code(code(fingerprint).lower().replace("-", ""))


def change(at: int, sign: int) -> int:
    """Return what a sign at a place adds to the check sum, the last place being the check sign.

    The sum is linear: 1 to 7 times the signs' numbers, less the check sign, is a multiple of 31.
    This holds the proof below to the code itself.
    """
    zeros = [0] * 8
    zeros[at] = sign
    weights = (1, 2, 3, 4, 5, 6, 7, -1)
    return sum(weight * number for weight, number in zip(weights, zeros, strict=True)) % 31


@given(st.lists(st.integers(0, 30), min_size=7, max_size=7))
def test_a_code_holds_exactly_when_its_sum_is_a_multiple_of_31(data: list[int]) -> None:
    for check in range(31):
        numbers = [*data, check]
        total = sum(change(at, number) for at, number in enumerate(numbers))
        assert is_code("".join(ALPHABET[number] for number in numbers)) == (total % 31 == 0)


def test_every_single_wrong_sign_is_found() -> None:
    """All places, all pairs of signs; the other signs cancel out, because the sum is linear."""
    for at in range(8):
        for right, wrong in permutations(range(31), 2):
            assert change(at, right) != change(at, wrong)


def test_every_swap_of_two_signs_is_found() -> None:
    """All pairs of places, neighbours or not, and all pairs of signs."""
    for one, other in combinations(range(8), 2):
        for a, b in permutations(range(31), 2):
            before = change(one, a) + change(other, b)
            after = change(one, b) + change(other, a)
            assert (before - after) % 31


@given(fingerprints)
@settings(max_examples=5)
def test_every_slip_in_a_real_code_is_found(fingerprint: str) -> None:
    signs = code(fingerprint).replace("-", "")
    slips = {signs[:at] + sign + signs[at + 1 :] for at in range(8) for sign in ALPHABET}
    for one, other in combinations(range(8), 2):
        swapped = list(signs)
        swapped[one], swapped[other] = swapped[other], swapped[one]
        slips.add("".join(swapped))
    assert [slip for slip in slips if is_code(slip)] == [signs]


def test_no_look_alikes() -> None:
    assert not set("01ILO") & set(ALPHABET)


def test_fingerprint_keeps_files_apart() -> None:
    assert digest([("job", b"ab"), ("machine", b"c")], "1") != digest(
        [("job", b"a"), ("machine", b"bc")], "1"
    )
