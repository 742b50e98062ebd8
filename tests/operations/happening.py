"""Makes a fault happen in a child process, and brings back what the program said of it."""

import ctypes
import json
import os
import resource
import signal
import sys
import traceback
from collections.abc import Callable
from pathlib import Path

from estate.errors import KnownFault

NOBODY = 65534
_NEW_MOUNTS, _NEW_USER = 0x00020000, 0x10000000
_PRIVATE_ALL = (1 << 18) | (1 << 14)

Said = tuple[str, str, str]
"""Title, detail and remedy."""


def said_in_a_child(before: Callable[[], None], deed: Callable[[], object]) -> Said:
    """What a known fault says that a deed meets in a child.

    Args:
        before: what brings the fault about, for the child alone.
        deed: has to raise a `KnownFault`.
    """
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        _tell(write, before, deed)
    os.close(write)
    told = b""
    while met := os.read(read, 4096):
        told += met
    os.close(read)
    _, status = os.waitpid(child, 0)
    if status != 0:
        raise AssertionError("the child met no known fault")
    title, detail, remedy = json.loads(told)
    return title, detail, remedy


def _tell(write: int, before: Callable[[], None], deed: Callable[[], object]) -> None:
    status = 1
    try:
        before()
        deed()
    except KnownFault as fault:
        os.write(write, json.dumps([fault.title, fault.detail, fault.remedy]).encode())
        status = 0
    finally:
        if status:
            traceback.print_exc()
            sys.stderr.flush()
        os._exit(status)


def as_nobody() -> None:
    """Give up root's right to write everywhere; other people never had it."""
    if os.geteuid() == 0:
        os.setgroups([])
        os.setgid(NOBODY)
        os.setuid(NOBODY)


def no_file_above(size_bytes: int) -> Callable[[], None]:
    """Let no file grow beyond a size: writing fails as on a disk that gives up."""

    def limit() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (size_bytes, size_bytes))

    return limit


def small_disk(folder: Path, size_kib: int) -> Callable[[], None]:
    """Lay a disk of a size over a folder, for this process alone; raises OSError where that is forbidden."""

    def mount() -> None:
        libc = ctypes.CDLL(None, use_errno=True)
        kinds = _NEW_MOUNTS if os.geteuid() == 0 else _NEW_MOUNTS | _NEW_USER
        _must(libc.unshare(kinds))
        _must(libc.mount(None, b"/", None, ctypes.c_ulong(_PRIVATE_ALL), None))
        options = f"size={size_kib}k".encode()
        _must(libc.mount(b"tmpfs", os.fsencode(folder), b"tmpfs", ctypes.c_ulong(0), options))

    return mount


def _must(result: int) -> None:
    if result != 0:
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number))


def can_mount(folder: Path) -> bool:
    """Whether this machine lets a process lay a small disk over a folder of its own."""
    child = os.fork()
    if child == 0:
        try:
            small_disk(folder, 64)()
        except OSError:
            os._exit(1)
        os._exit(0)
    return os.waitpid(child, 0)[1] == 0
