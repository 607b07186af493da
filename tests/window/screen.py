"""A real LibreOffice window on a screen of its own: typed into by keys, as a person does.

Setting a cell by a script goes behind the back of validations, lists, formats that follow
what is typed, protection and undo; here every one of them acts.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

PROGRAMS = ("soffice", "Xvfb", "openbox", "xdotool", "xclip", "import")
SIZE = "1600x1000x24"

# No first-run pages, no question about the file's format, no recovery, no autocorrection.
SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
{items}
</oor:items>
"""
ITEMS = (
    ("org.openoffice.Office.Common/Save/Document", "WarnAlienFormat", "false"),
    ("org.openoffice.Office.Common/Misc", "FirstRun", "false"),
    ("org.openoffice.Office.Common/Misc", "ShowTipOfTheDay", "false"),
    ("org.openoffice.Setup/Product", "ooSetupLastVersion", "99.0"),
    ("org.openoffice.Setup/Office", "LastCompatibilityCheckID", "none"),
    ("org.openoffice.Office.Calc/Input", "AutoInput", "false"),
    ("org.openoffice.Office.Common/AutoCorrect", "CapitalAtStartSentence", "false"),
)


def missing() -> list[str]:
    """Programs that a window needs and this machine lacks."""
    return [program for program in PROGRAMS if shutil.which(program) is None]


class Screen:
    """One screen without a monitor, with a window manager: without one dialogs get no keys."""

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="twodrum-window-"))
        self.started: list[subprocess.Popen[bytes]] = []
        read, write = os.pipe()
        self._start("Xvfb", "-displayfd", str(write), "-screen", "0", SIZE, keep=(write,))
        os.close(write)
        with os.fdopen(read) as answer:
            number = answer.readline().strip()
        self.environment = {**os.environ, "DISPLAY": f":{number}", "LC_ALL": "C.UTF-8"}
        self._start("openbox")

    def _start(self, *command: str, keep: tuple[int, ...] = ()) -> subprocess.Popen[bytes]:
        process = subprocess.Popen(
            command,
            env=getattr(self, "environment", None),
            pass_fds=keep,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        self.started.append(process)
        return process

    def run(self, *command: str, text: str | None = None) -> str:
        """What a program on this screen answers."""
        done = subprocess.run(
            command,
            env=self.environment,
            input=text,
            text=True,
            capture_output=True,
            timeout=60,
            check=False,
        )
        return done.stdout.strip()

    def close(self) -> None:
        """End all that was started here, whatever happened."""
        for process in reversed(self.started):
            with contextlib.suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)
            process.wait()
        shutil.rmtree(self.folder, ignore_errors=True)


class Window:
    """A book that is open in Calc."""

    def __init__(self, screen: Screen, path: Path, locale: str = "") -> None:
        self.screen = screen
        self.path = path
        profile = Path(tempfile.mkdtemp(prefix="profile-", dir=screen.folder))
        (profile / "user").mkdir()
        items = list(ITEMS)
        if locale:
            items.append(("org.openoffice.Setup/L10N", "ooSetupSystemLocale", locale))
        text = "\n".join(
            f'<item oor:path="/{path}"><prop oor:name="{name}" oor:op="fuse">'
            f"<value>{value}</value></prop></item>"
            for path, name, value in items
        )
        (profile / "user" / "registrymodifications.xcu").write_text(SETTINGS.format(items=text))
        self.command = (
            "soffice",
            f"-env:UserInstallation=file://{profile}",
            "--norestore",
            "--nologo",
            "--calc",
            str(path),
        )
        self.process = screen._start(*self.command)
        self.id = self._wait_for(path.name)
        self._still()

    def _windows(self) -> list[str]:
        found = self.screen.run("xdotool", "search", "--onlyvisible", "--name", ".")
        return [line for line in found.splitlines() if line]

    def title(self, window: str) -> str:
        """The title of a window."""
        return self.screen.run("xdotool", "getwindowname", window)

    def _wait_for(self, name: str) -> str:
        for _ in range(600):
            for window in self._windows():
                if name in self.title(window):
                    return window
            # On a fresh profile the program may end while it starts, and has to be called again.
            if self.process.poll() is not None:
                self.process = self.screen._start(*self.command)
            time.sleep(0.1)
        raise AssertionError(f"no window shows {name}: {[self.title(w) for w in self._windows()]}")

    def _still(self) -> None:
        """Wait until the screen stands still."""
        last = b""
        for _ in range(120):
            time.sleep(0.25)
            shot = subprocess.run(
                ["import", "-silent", "-window", "root", "rgb:-"],
                env=self.screen.environment,
                capture_output=True,
                timeout=60,
                check=False,
            ).stdout
            if shot and shot == last:
                return
            last = shot

    def dialog(self) -> str:
        """The title of the dialog that is open; "" where none is."""
        for window in self._windows():
            title = self.title(window)
            ours = window == self.id or title.endswith("LibreOffice Calc")
            if title and not ours and title != "Openbox":
                return title
        return ""

    def key(self, *keys: str) -> None:
        """Press keys one after the other."""
        self.screen.run("xdotool", "key", "--delay", "30", *keys)

    def keys(self, text: str) -> None:
        """Press the keys of a text."""
        self.screen.run("xdotool", "type", "--delay", "12", "--", text)

    def go(self, place: str) -> None:
        """Go to a cell or area by its address or its name, in the name box."""
        self.key("ctrl+shift+t")
        self.key("ctrl+a")
        self.keys(place)
        self.key("Return")

    def type(self, place: str, text: str) -> str:
        """Type into a cell; the title of the dialog that refuses it, "" where it is taken."""
        self.go(place)
        self.keys(text)
        self.key("Return")
        return self.refused()

    def refused(self) -> str:
        """The title of a dialog that has come up; it is closed, what was typed given up."""
        title = ""
        for _ in range(4):
            time.sleep(0.1)
            title = self.dialog()
            if title:
                break
        if title:
            # On a busy machine a dialog stands a while after its key; it is not the next one's.
            for _ in range(50):
                self.key("Escape")
                time.sleep(0.2)
                if not self.dialog():
                    break
            self.key("Escape")
        return title

    def paste(self, place: str, rows: Sequence[str]) -> None:
        """Paste lines of text, as from another program."""
        # The owner of a selection lives until another program takes the selection over.
        with subprocess.Popen(
            ["xclip", "-selection", "clipboard"],
            env=self.screen.environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        ) as process:
            process.communicate("\n".join(rows).encode())
        time.sleep(0.3)
        self.go(place)
        self.key("ctrl+v")
        time.sleep(0.5)
        if self.dialog():
            self.key("Return")
            time.sleep(0.3)

    def save(self) -> None:
        """Save in the file's own format."""
        before = self.path.stat().st_mtime_ns
        self.key("ctrl+s")
        for _ in range(200):
            time.sleep(0.1)
            if self.path.stat().st_mtime_ns != before:
                break
            if self.dialog():
                self.key("Return")
        self._still()

    def picture(self, path: Path) -> None:
        """What a person sees."""
        self.screen.run("import", "-silent", "-window", "root", str(path))

    def close(self) -> None:
        """Close the book without saving, and end this program and nothing else."""
        self.key("ctrl+q")
        for _ in range(60):
            if self.process.poll() is not None:
                break
            time.sleep(0.1)
            if self.dialog():
                # "Save the changes?": no.
                self.key("alt+n")
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self.path.with_name(f".~lock.{self.path.name}#").unlink(missing_ok=True)
