"""Damage of the kinds that files suffer, the same for the same seed."""

from collections.abc import Callable

import numpy as np

Damage = Callable[[bytearray, int, int, np.random.Generator], None]


def _overwrite(content: bytearray, place: int, length: int, rng: np.random.Generator) -> None:
    content[place : place + length] = rng.bytes(length)


def _cut_out(content: bytearray, place: int, length: int, rng: np.random.Generator) -> None:
    del content[place : place + length]


def _repeat(content: bytearray, place: int, length: int, rng: np.random.Generator) -> None:
    content[place:place] = content[place : place + 20 * length]


def _flip_a_bit(content: bytearray, place: int, length: int, rng: np.random.Generator) -> None:
    content[place] ^= 1 << int(rng.integers(0, 8))


def _lose_the_end(content: bytearray, place: int, length: int, rng: np.random.Generator) -> None:
    del content[max(place, 1) :]


def _change_a_number(content: bytearray, place: int, length: int, rng: np.random.Generator) -> None:
    """Put a figure, sign or exponent over the next digit: the file stays well formed."""
    digits = [at for at, byte in enumerate(content[place:], start=place) if 0x30 <= byte <= 0x39]
    if digits:
        put_in = (b"0", b"9", b"-1", b".5", b"1e9", b"99999", b"/0", b"")[int(rng.integers(0, 8))]
        content[digits[0] : digits[0] + 1] = put_in


def _change_a_letter(content: bytearray, place: int, length: int, rng: np.random.Generator) -> None:
    letters = [at for at, byte in enumerate(content[place:], start=place) if chr(byte).isalpha()]
    if letters:
        content[letters[0]] = int(rng.integers(0x41, 0x5B))


_GENTLE: tuple[Damage, ...] = (_change_a_number, _change_a_letter, _flip_a_bit)
_ROUGH: tuple[Damage, ...] = (_overwrite, _cut_out, _repeat, _lose_the_end)


def mutated(content: bytes, *, seed: int) -> bytes:
    """Return the content damaged once to three times, two thirds of them gently."""
    rng = np.random.default_rng(seed)
    damaged = bytearray(content)
    for _ in range(int(rng.integers(1, 4))):
        kinds = _GENTLE if rng.random() < 2 / 3 else _ROUGH
        place = int(rng.integers(0, len(damaged)))
        damage = kinds[int(rng.integers(0, len(kinds)))]
        damage(damaged, place, int(rng.integers(1, 9)), rng)
        if not damaged:
            damaged += b"\x00"
    return bytes(damaged)
