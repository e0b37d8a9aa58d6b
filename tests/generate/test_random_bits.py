"""Random bits by counter: SplitMix64 as published, no state, evenly spread."""

from __future__ import annotations

import numpy as np
import pytest

from tutor.generate.random_bits import Words, bits, choose, key_of, mix

# The first outputs of splitmix64.c (S. Vigna, 2015, public domain) for the seed 1234567: from memory.
REFERENCE_SEED = 1234567
REFERENCE = [
    6457827717110365317,
    3203168211198807973,
    9817491932198370423,
    4593380528125082431,
    16408922859458223821,
]
GOLDEN = 0x9E3779B97F4A7C15  # 2⁶⁴ over the golden ratio, to the nearest odd number
WORD = 1 << 64


def words(*values: int) -> Words:
    return np.array([value % WORD for value in values], dtype=np.uint64)


def test_mix_is_the_output_function_of_splitmix64():
    """The generator adds the golden gamma to its state and mixes; so mix(seed + i × gamma) is output number i."""
    states = words(*(REFERENCE_SEED + step * GOLDEN for step in range(len(REFERENCE))))
    assert [int(word) for word in mix(states)] == REFERENCE


def by_hand(state: int) -> int:
    """The same function on Python's whole numbers, from the published definition: no array in it."""
    mixed = (state + GOLDEN) % WORD
    mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9 % WORD
    mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB % WORD
    return mixed ^ (mixed >> 31)


@pytest.mark.parametrize("state", [0, 1, REFERENCE_SEED, WORD - 1, WORD - GOLDEN, 0xDEADBEEF << 32])
def test_arrays_and_whole_numbers_agree(state: int):
    """Wrapping round at 2⁶⁴ included, and without a warning."""
    assert int(mix(words(state))[0]) == by_hand(state)


def test_a_batch_is_its_members():
    """The bits of one number do not depend on which others are asked for beside it."""
    numbers, attempts = words(*range(1, 1001)), words(*(0 for _ in range(1000)))
    together = bits(42, numbers, attempts, 3)
    alone = [int(bits(42, numbers[place : place + 1], attempts[place : place + 1], 3)[0]) for place in (0, 6, 999)]
    assert alone == [int(together[place]) for place in (0, 6, 999)]


def test_key_number_attempt_and_slot_each_make_other_bits():
    """Changing any one of the four gives an unrelated word: about half its bits turn."""
    base = int(bits(5, words(7), words(2), 1)[0])
    others = [
        bits(6, words(7), words(2), 1),
        bits(5, words(8), words(2), 1),
        bits(5, words(7), words(3), 1),
        bits(5, words(7), words(2), 2),
    ]
    for other in others:
        assert 16 <= bin(base ^ int(other[0])).count("1") <= 48


def test_keys_are_the_head_of_a_sha_256():
    """FIPS 180-4: SHA-256 of `abc` begins ba7816bf 8f01cfea; names that look alike share nothing."""
    assert key_of("abc") == 0xBA7816BF8F01CFEA
    assert bin(key_of("zener-state:1@1") ^ key_of("zener-state:1@2")).count("1") > 16


def test_a_choice_is_the_upper_half_scaled():
    """Index = ⌊upper 32 bits × count / 2³²⌋: least word first index, greatest word last, half way the middle."""
    edge = words(0, WORD - 1, WORD // 2, WORD // 2 - 1)
    assert choose(edge, 10).tolist() == [0, 9, 5, 4]
    assert choose(edge, 1).tolist() == [0, 0, 0, 0]


@pytest.mark.parametrize("count", [2, 3, 7, 24, 96])
def test_choices_are_evenly_spread(count: int):
    """Over 20,000 consecutive numbers χ² stays below its 0.1 % point (about count + 3.1 √(2 count) + 7)."""
    numbers = words(*range(1, 20_001))
    index = choose(bits(key_of("spread"), numbers, np.zeros_like(numbers), 0), count)
    seen = np.bincount(index, minlength=count)
    expected = len(numbers) / count
    chi = float(((seen - expected) ** 2 / expected).sum())
    assert len(seen) == count
    assert chi < count + 3.1 * (2 * count) ** 0.5 + 7


def test_neighbouring_numbers_are_unrelated():
    """No pattern from number to number, from attempt to attempt or from slot to slot: correlations below 0.03."""
    count = 10_000
    numbers, none = words(*range(count)), words(*(0 for _ in range(count)))

    def unit(found: Words) -> np.ndarray:
        return found.astype(np.float64) / WORD - 0.5

    base = unit(bits(9, numbers, none, 0))
    for other in (bits(9, numbers, none, 1), bits(9, numbers, none + np.uint64(1), 0), bits(10, numbers, none, 0)):
        assert abs(float(np.corrcoef(base, unit(other))[0, 1])) < 0.03
    assert abs(float(np.corrcoef(base[:-1], base[1:])[0, 1])) < 0.03
