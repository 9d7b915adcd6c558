#!/usr/bin/env python3
"""The workbook's first full frame against the sqlite3 shell's one row, its memory, and a long paste.

    make bench-book           or
    first_frame.py PADSIDE BOOK

Both are started in turn on the same book, many times, from the moment of
starting the process: the workbook in a pseudo-terminal of 80 by 24 until the
last words of its first page have come out, the shell until it has ended.  Then
the memory that it has when idle is read, which includes the pages of libraries
that other programs share; and a million letters are pasted, until the key
behind them is answered.
"""

import fcntl
import os
import pty
import signal
import statistics
import struct
import subprocess
import sys
import termios
import time

ROUNDS = 41
PASTES = 5
IDLES = 5
IDLE_SECONDS = 0.5
LAST_WORDS = b"go to"
PASTE = b"\033[200~" + 1_000_000 * b"x" + b"\033[201~"
HELP = b"\033OP"  # F1
HELP_WORDS = b"Esc"
MOST_SECONDS = 120  # whoever waits longer waits for something that does not come
QUIT = b"\x11"  # Ctrl+Q
ONE_ROW = "SELECT complaint, opened_at FROM call ORDER BY opened_at DESC LIMIT 1"


def seconds_of_shell(book):
    began = time.perf_counter()
    subprocess.run(["sqlite3", "-readonly", book, ONE_ROW], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


def start_workbook(padside, book):
    """The program in a terminal: our end, and the process."""
    ours, its = pty.openpty()
    fcntl.ioctl(its, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    process = subprocess.Popen([padside, "--book", book], stdin=its, stdout=its, stderr=its,
                               env=os.environ | {"TERM": "xterm-256color", "LC_ALL": "C.UTF-8"})
    os.close(its)
    return ours, process


def read_until(ours, words):
    seen = b""
    while words not in seen:
        seen += os.read(ours, 65536)


def end_workbook(ours, process):
    os.write(ours, QUIT)
    try:
        while os.read(ours, 65536):
            pass
    except OSError:  # the terminal is gone with the program
        pass
    process.wait()
    os.close(ours)


def seconds_of_workbook(padside, book):
    began = time.perf_counter()
    ours, process = start_workbook(padside, book)
    read_until(ours, LAST_WORDS)
    took = time.perf_counter() - began
    end_workbook(ours, process)
    return took


def megabytes_when_idle(padside, book):
    ours, process = start_workbook(padside, book)
    read_until(ours, LAST_WORDS)
    time.sleep(IDLE_SECONDS)
    with open(f"/proc/{process.pid}/status", encoding="ascii") as status:
        kilobytes = next(int(line.split()[1]) for line in status if line.startswith("VmRSS:"))
    end_workbook(ours, process)
    return kilobytes / 1000


def seconds_of_paste(padside, book):
    ours, process = start_workbook(padside, book)
    read_until(ours, LAST_WORDS)
    began = time.perf_counter()
    keys = PASTE + HELP
    while keys:
        keys = keys[os.write(ours, keys):]
    read_until(ours, HELP_WORDS)
    took = time.perf_counter() - began
    end_workbook(ours, process)
    return took


def main():
    padside, book = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
    signal.alarm(MOST_SECONDS)
    shell, workbook = [], []
    for _ in range(ROUNDS):
        shell.append(seconds_of_shell(book))
        workbook.append(seconds_of_workbook(padside, book))
    ratio = statistics.median(workbook) / statistics.median(shell)
    print(f"first full frame: {1e3 * statistics.median(workbook):.1f} ms, {ratio:.2f} times the "
          f"sqlite3 shell's one row ({1e3 * statistics.median(shell):.1f} ms); wanted: at most 2.8")
    idle = statistics.median(megabytes_when_idle(padside, book) for _ in range(IDLES))
    print(f"idle: {idle:.1f} MB resident; wanted: at most 5.9")
    pastes = [seconds_of_paste(padside, book) for _ in range(PASTES)]
    print(f"a paste of a megabyte: {1e3 * statistics.median(pastes):.0f} ms; wanted: at most 1000")


if __name__ == "__main__":
    main()
