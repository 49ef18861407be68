"""The short code: every slip of a pencil is found."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from cardgen.binder.code import ALPHABET, code, digest, is_code

fingerprints = st.text("0123456789abcdef", min_size=64, max_size=64)


@given(fingerprints)
def test_code_is_well_formed(fingerprint: str) -> None:
    assert is_code(code(fingerprint))
    assert is_code(code(fingerprint).lower().replace("-", ""))


@given(fingerprints, st.integers(0, 7), st.sampled_from(ALPHABET))
def test_every_single_wrong_sign_is_found(fingerprint: str, at: int, sign: str) -> None:
    signs = code(fingerprint).replace("-", "")
    if signs[at] != sign:
        assert not is_code(signs[:at] + sign + signs[at + 1 :])


@given(fingerprints, st.integers(0, 6))
def test_every_swap_of_neighbours_is_found(fingerprint: str, at: int) -> None:
    signs = code(fingerprint).replace("-", "")
    if signs[at] != signs[at + 1]:
        assert not is_code(signs[:at] + signs[at + 1] + signs[at] + signs[at + 2 :])


def test_no_look_alikes() -> None:
    assert not set("01ILO") & set(ALPHABET)


def test_fingerprint_keeps_files_apart() -> None:
    assert digest([("job", b"ab"), ("machine", b"c")], "1") != digest(
        [("job", b"a"), ("machine", b"bc")], "1"
    )
