"""The content of a file that somebody names, read no further than is needed to see that it is too large.

A device or a pipe has a size of 0 and may go on without end, or never begin: neither is read. Links are followed, since
whoever names a file of their own may link it; `returned.py`, which reads the files of others, follows none.
Place in the data flow: a path in a set file or on the command line -> bytes -> text -> its own reader.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

from tutor.errors import BadValue, OutOfRange, SteadyrailError

_FLAGS = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)


def content_of(path: Path, most: int) -> bytes:
    """Up to `most` bytes of a plain file, and one more where it holds more.

    OSError, with words of its own, for a path that is none (it holds a zero byte) and for what is no plain file.
    """
    try:
        handle = os.open(path, _FLAGS)
    except ValueError as error:
        raise OSError(errno.EINVAL, "its name cannot be used") from error
    with os.fdopen(handle, "rb") as stream:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(errno.EINVAL, "it is no plain file")
        return stream.read(most + 1)


def text_of(path: Path, most: int, called: str, instead: str) -> str:
    """The text of a plain file in UTF-8, with or without a mark of its order, of `most` bytes at most.

    SteadyrailError for a file that cannot be read, OutOfRange for one that is larger, BadValue for one in another
    coding: sentences in which it is `called` so ("a class list"), the first and the last with what to do `instead`
    ("save it as CSV").
    """
    try:
        content = content_of(path, most)
    except OSError as error:
        raise SteadyrailError(f"{path} cannot be read as {called}: {error.strerror or error}; {instead}") from error
    if len(content) > most:
        raise OutOfRange(f"{path.name} is too large: {called} may have up to {most // 1024**2} MB")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadValue(f"{path.name} is no UTF-8 text (byte {error.start + 1}); {instead}") from error
