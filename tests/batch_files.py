"""A reader of batch files, for the few commands that start.bat uses; it stands in for cmd.exe, which is not here.

By what Microsoft publishes of these commands (learn.microsoft.com, "Windows commands": call, echo, exit, goto, if,
pause, popd, pushd, rem, set, setlocal; "Using command redirection operators" and the conditional symbols && and ||):
variables are put in before a line is taken apart; symbols between quotes mean nothing; the command of an `if` is all
the rest of its line, && and || included; a label stands at the start of a line. Whatever else stands in a file is
refused here rather than passed over.
"""

import re

NOT_FOUND = 9009
"""What cmd.exe answers for a program that is not there."""


class Batch:
    """One run of a batch file.

    `programs` says how a program ends: a function of its words, by its name; `folders` are those that pushd can reach.
    Afterwards `said`, `ran`, `paused`, `pushed` and `ended` say what happened.
    """

    def __init__(self, text, place, *, programs, folders=None, variables=None, given=()):
        assert "\n" not in text.replace("\r\n", ""), "every line ends as cmd.exe wants it, or labels are not found"
        self.lines = text.split("\r\n")
        self.place, self.programs, self.given = place, programs, given
        self.folders = {place} if folders is None else folders
        self.variables = {name.lower(): value for name, value in (variables or {}).items()}
        self.said, self.ran, self.pushed, self.paused, self.ended, self.at = [], [], [], 0, None, 0
        while self.ended is None and self.at < len(self.lines):
            line = self.lines[self.at].strip().removeprefix("@")
            self.at += 1
            if line and not line.startswith(":") and not re.match(r"rem(\s|$)", line, re.IGNORECASE):
                self.line(self.filled(line))

    def filled(self, line):
        line = line.replace("%~dp0", self.place).replace("%*", " ".join(self.given))
        return re.sub(r"%(\w+)%", lambda name: self.variables.get(name[1].lower(), ""), line)

    def line(self, line):
        """Do a line: commands with && and || between them, one after the other; gives how the last one ended."""
        asked = re.match(r"if (not )?defined (\w+) (.+)", line, re.IGNORECASE)
        if asked:
            return self.line(asked[3]) if (asked[2].lower() in self.variables) != bool(asked[1]) else 0
        first, *rest = re.split(r"(&&|\|\|)(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", line)
        ended = self.command(first.strip())
        for sign, command in zip(rest[::2], rest[1::2], strict=True):
            if self.ended is None and (ended == 0) == (sign == "&&"):
                ended = self.command(command.strip())
        return ended

    def command(self, command):
        quiet = re.sub(r"\s+2?>nul(?=\s|$)", "", command)
        assert not re.search(r"[<>|&^]", re.sub(r'"[^"]*"', "", quiet)), f"not known here: {command}"
        word, _, rest = quiet.partition(" ")
        match word.lower():
            case "echo":
                if rest != "off":
                    self.said.append(rest)
            case "setlocal":
                assert set(rest.split()) <= {"enableextensions", "disabledelayedexpansion"}
            case "set":
                name, value = re.fullmatch(r'"(\w+)=([^"]*)"', rest).groups()
                self.variables.pop(name.lower(), None)
                if value:
                    self.variables[name.lower()] = value
            case "pushd":
                folder = re.fullmatch(r'"([^"]*)"', rest)[1]
                if folder not in self.folders:
                    return 1
                self.pushed.append(folder)
            case "popd":
                self.pushed.pop()
            case "pause":
                self.paused += 1
            case "goto":
                self.at = next(at for at, line in enumerate(self.lines, 1) if line.lower() == f":{rest.lower()}")
            case "exit":
                self.ended = int(re.fullmatch(r"/b (\d+)", rest)[1])
            case _:
                self.ran.append((self.pushed[-1] if self.pushed else None, quiet))
                return self.programs.get(word, lambda _: NOT_FOUND)(rest)
        return 0
