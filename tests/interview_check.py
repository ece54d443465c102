"""Three people are interviewed in a real terminal: an owner who knows little, a
contractor with every figure, and somebody who measures in metres, changes their mind,
leaves and comes back. Each must come from an empty folder to a job and its first sheet.

usage: interview_check.py DRIPLEG
"""

import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import tempfile
import termios
import time

PROMPT = "\n       > "
COLUMNS, LINES = 80, 40

OWNER = """\


24-0 x 20-0
left 3-0

5 hp, 60 gal

door track over the big door
left, ahead

bench 8-0
bay ?


impact wrench
?
help
1
40 F



home

"""

CONTRACTOR = """feet
south
48-0 x 32-0 x 14-0
west 16-0 outside 4-0
3-6, 1in
24 cfm, 140-175 psi, 80 gal
11-0
none
ring

bench 10-0
router 30-6

spray 6-0
press 10-0 right

assembly 14-0
door 12-0 right

4-0
orbital sander
blow gun
hvlp spray gun
clamp station, clamp station
sander, clamp station, finish nailer, stapler
tyre inflator
3
38 F
spray
east 16-0
black iron, copper soldered
contractor

"""

# The room is typed wrong, taken back and put right; the outlets are told anew.
METRIC = (
    """metric
west
14.6 x 9.8
14.6m x 8.9m x 4m
back
14.6m x 9.8m x 4m
north 5m
1.1m, 3/4in
11 l/s, 8-10 bar, 300 l
3.3m
quit
""",
    """none
east, south
bank 3m
again

bench 3m

saw 2m
press 2m right

1.2m
sander
drill
blow gun
2
4 C


galvanised
business

""",
)


class Terminal:
    """A program in a terminal of 80 x 40, and all that it has printed."""

    def __init__(self, words, folder):
        self.pid, self.end = pty.fork()
        if self.pid == 0:
            size = struct.pack("HHHH", LINES, COLUMNS, 0, 0)
            fcntl.ioctl(0, termios.TIOCSWINSZ, size)
            os.chdir(folder)
            os.execv(words[0], words)
        self.text = ""

    def read(self, wanted):
        """Reads until that ends the text, or the program does."""
        while not self.text.endswith(wanted):
            ready, _, _ = select.select([self.end], [], [], 60)
            if not ready:
                raise SystemExit(f"nothing for a minute behind:\n{self.text[-500:]}")
            try:
                more = os.read(self.end, 65536)
            except OSError:
                more = b""
            if not more:
                return False
            self.text += more.decode().replace("\r\n", "\n")
        return True

    def type(self, line):
        os.write(self.end, line.encode() + b"\n")
        # The terminal echoes it.
        self.read(f"{line}\n")

    def exit(self):
        _, status = os.waitpid(self.pid, 0)
        return os.waitstatus_to_exitcode(status)


def interview(dripleg, folder, job, script):
    """Types a script; gives back what stood on the screen."""
    terminal = Terminal([dripleg, "new", job], folder)
    lines = script.split("\n")[:-1]
    for line in lines:
        if not terminal.read(PROMPT):
            raise SystemExit(f"it ended before `{line}`:\n{terminal.text}")
        terminal.type(line)
    while terminal.read("\0"):
        pass
    code = terminal.exit()
    assert code == 0, f"exit {code}:\n{terminal.text}"
    return plain(terminal.text), len(lines)


def plain(text):
    return re.sub(r"\x1b\[[0-9;]*m", "", text)


def sheet(screen):
    """The first sheet, which must fit a screen."""
    _, _, sheet = screen.partition("First rough sheet")
    lines = sheet.count("\n")
    assert 20 <= lines <= 40, f"{lines} lines:\n{sheet}"
    for line in screen.split("\n"):
        assert len(line) <= COLUMNS, f"{len(line)} columns: {line}"
    return sheet


def holds(text, *wanted):
    flat = " ".join(text.split())
    for one in wanted:
        assert one in flat, f"`{one}` is not in:\n{text}"


def check(dripleg, folder, job):
    """The job is one that `check` takes."""
    found = subprocess.run([dripleg, "check", job], cwd=folder, capture_output=True, text=True)
    assert found.returncode == 0, found.stdout + found.stderr
    return found.stdout


def main():
    dripleg = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        began = time.monotonic()
        screen, typed = interview(dripleg, folder, "garage.toml", OWNER)
        took = time.monotonic() - began
        first = sheet(screen)
        holds(screen, " 1 of 16", "16 of 16", "Hand tools run only in somebody's hand")
        holds(first, "2 outlets", "what is used at bay", "where bay stands", "door track over the big door")
        holds(check(dripleg, folder, "garage.toml"), "2 outlets")
        print(f"owner: {typed} lines typed, {took:.1f} s to the first sheet")

        began = time.monotonic()
        screen, typed = interview(dripleg, folder, "millrace.toml", CONTRACTOR)
        took = time.monotonic() - began
        first = sheet(screen)
        holds(first, "6 outlets", "nothing, it was all told", "--systems black-iron,copper-l-soldered")
        holds(check(dripleg, folder, "millrace.toml"), "6 outlets")
        print(f"contractor: {typed} lines typed, {took:.1f} s to the first sheet")

        began = time.monotonic()
        screen, typed = interview(dripleg, folder, "halle.toml", METRIC[0])
        holds(screen, "a bare number is never a length", "dripleg new halle.toml")
        assert sorted(os.listdir(folder)) == ["garage.toml", "halle.toml.asking", "millrace.toml"]
        screen, more = interview(dripleg, folder, "halle.toml", METRIC[1])
        took = time.monotonic() - began
        first = sheet(screen)
        holds(screen, "Going on with the answers in halle.toml.asking", " 7 of 16")
        holds(first, "3 outlets", " m of main")
        with open(os.path.join(folder, "halle.toml")) as job:
            text = job.read()
        holds(text, 'size = "9800mm x 14600mm"', "bench =", 'threading = "bought"')
        assert "bank" not in text
        assert not os.path.exists(os.path.join(folder, "halle.toml.asking"))
        check(dripleg, folder, "halle.toml")
        print(f"metric: {typed + more} lines typed, {took:.1f} s to the first sheet")


main()
