"""The short code on a card: what it was made from, in eight characters read aloud without doubt."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""31 signs, a prime number; none of 0 O 1 I L, which pencil and wet film confuse."""

_DATA = 7


def digest(parts: Iterable[tuple[str, bytes]], version: str) -> str:
    """Return a fingerprint of the files behind a card.

    Parameters
    ----------
    parts
        Role and content of each file. Names are left out on purpose: a job that is moved to
        another folder is the same job.
    version
        Of cardgen, because other rules may give other numbers.

    Returns
    -------
    str
        SHA-256 in hexadecimal.
    """
    total = hashlib.sha256(version.encode())
    for role, content in parts:
        total.update(role.encode() + b"\0" + hashlib.sha256(content).digest())
    return total.hexdigest()


def _check_sign(signs: str) -> str:
    # Weights 1..7 modulo a prime: finds every single wrong sign and every swap of two.
    total = sum(weight * ALPHABET.index(sign) for weight, sign in enumerate(signs, start=1))
    return ALPHABET[total % len(ALPHABET)]


def code(fingerprint: str) -> str:
    """Return the short code of a fingerprint, such as ``K7MQ-29XF``.

    Examples
    --------
    >>> is_code(code("00" * 32))
    True
    """
    number = int(fingerprint[:16], 16)
    signs = ""
    for _ in range(_DATA):
        number, rest = divmod(number, len(ALPHABET))
        signs += ALPHABET[rest]
    signs += _check_sign(signs)
    return f"{signs[:4]}-{signs[4:]}"


def is_code(text: str) -> bool:
    """Whether a text is a well-formed code with the right check sign; case does not matter."""
    signs = text.strip().upper().replace("-", "")
    return (
        len(signs) == _DATA + 1
        and all(sign in ALPHABET for sign in signs)
        and _check_sign(signs[:_DATA]) == signs[_DATA]
    )
