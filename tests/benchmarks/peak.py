"""The most memory a process took."""

from __future__ import annotations

import resource
from pathlib import Path


def peak_memory() -> float:
    """Of this process, in MB. What `getrusage` tells begins with that of the process it came from."""
    status = Path("/proc/self/status")
    if status.exists():
        return int(status.read_text().split("VmHWM:")[1].split()[0]) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
