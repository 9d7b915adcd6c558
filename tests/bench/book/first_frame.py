#!/usr/bin/env python3
"""The workbook's first full frame against the sqlite3 shell printing one row.

    make bench-book           or
    first_frame.py PADSIDE BOOK

Both are started in turn on the same book, many times, from the moment of
starting the process: the workbook in a pseudo-terminal of 80 by 24 until the
last words of its first page have come out, the shell until it has ended.
"""

import fcntl
import os
import pty
import statistics
import struct
import subprocess
import sys
import termios
import time

ROUNDS = 41
LAST_WORDS = b"F1: help"
QUIT = b"\x11"  # Ctrl+Q
ONE_ROW = "SELECT complaint, opened_at FROM call ORDER BY opened_at DESC LIMIT 1"


def seconds_of_shell(book):
    began = time.perf_counter()
    subprocess.run(["sqlite3", "-readonly", book, ONE_ROW], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


def seconds_of_workbook(padside, book):
    ours, its = pty.openpty()
    fcntl.ioctl(its, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    began = time.perf_counter()
    process = subprocess.Popen([padside, "--book", book], stdin=its, stdout=its, stderr=its,
                               env=os.environ | {"TERM": "xterm-256color", "LC_ALL": "C.UTF-8"})
    seen = b""
    while LAST_WORDS not in seen:
        seen += os.read(ours, 65536)
    took = time.perf_counter() - began
    os.close(its)
    os.write(ours, QUIT)
    try:
        while os.read(ours, 65536):
            pass
    except OSError:  # the terminal is gone with the program
        pass
    process.wait()
    os.close(ours)
    return took


def main():
    padside, book = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
    shell, workbook = [], []
    for _ in range(ROUNDS):
        shell.append(seconds_of_shell(book))
        workbook.append(seconds_of_workbook(padside, book))
    ratio = statistics.median(workbook) / statistics.median(shell)
    print(f"first full frame: {1e3 * statistics.median(workbook):.1f} ms, {ratio:.2f} times the "
          f"sqlite3 shell's one row ({1e3 * statistics.median(shell):.1f} ms); wanted: at most 3")


if __name__ == "__main__":
    main()
