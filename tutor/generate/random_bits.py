"""A counter-based source of random bits: the same key, number, attempt and slot give the same bits anywhere.

SplitMix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014): its output function
over a counter, on numpy uint64 arrays, integer arithmetic alone. No state, so a batch of one and a batch of a thousand
agree to the bit.
"""

from __future__ import annotations

import hashlib

import numpy as np
from numpy.typing import NDArray

Words = NDArray[np.uint64]

_GOLDEN = np.uint64(0x9E3779B97F4A7C15)
_MIX_1 = np.uint64(0xBF58476D1CE4E5B9)
_MIX_2 = np.uint64(0x94D049BB133111EB)


def key_of(name: str) -> int:
    """A 64-bit key from a name, by SHA-256 (so that names that look alike share nothing)."""
    return int.from_bytes(hashlib.sha256(name.encode("utf-8")).digest()[:8], "big")


def mix(words: Words) -> Words:
    """The SplitMix64 output function, elementwise."""
    with np.errstate(over="ignore"):
        z = words + _GOLDEN
        z = (z ^ (z >> np.uint64(30))) * _MIX_1
        z = (z ^ (z >> np.uint64(27))) * _MIX_2
        return z ^ (z >> np.uint64(31))


def bits(key: int, numbers: Words, attempts: Words, slot: int) -> Words:
    """64 random bits for each (number, attempt) pair, in the stream of `slot`."""
    with np.errstate(over="ignore"):
        stream = mix(numbers + np.uint64(key))
        stream = mix(stream ^ mix(attempts + np.uint64(0x5851F42D4C957F2D)))
        return mix(stream + np.uint64(slot) * _GOLDEN)


def choose(words: Words, count: int) -> NDArray[np.int64]:
    """An index below `count` for each word, from its upper half; `count` below 2^31, bias below count/2^32."""
    return (((words >> np.uint64(32)) * np.uint64(count)) >> np.uint64(32)).astype(np.int64)
