"""A hand at a workbook: what its page sends, and what it gets back."""

from itertools import count

import numpy as np


class HandAtBook:
    """Sends messages as the page does; `answers` holds what was answered, `asked` gives the answer to one."""

    def __init__(self, book):
        self.book, self.answers, self.numbers = book, [], count(1)
        book.send = lambda answer, buffers=None: self.answers.append(answer)

    def ask(self, kind, *, buffers=(), **content):
        """Send a message and give its answer."""
        seq = next(self.numbers)
        self.book._receive(None, {"view": "v", "seq": seq, "kind": kind, **content}, list(buffers))
        (answer,) = [each for each in self.answers if each["seq"] == seq]
        return answer

    def press(self, panel, name, /, *, buffers=(), **values):
        """Press something of a panel; gives the answer, which must hold no error."""
        answer = self.ask("do", panel=panel, name=name, values=values, buffers=buffers)
        assert "error" not in answer, answer["error"]
        return answer

    def refused(self, panel, name, /, *, buffers=(), **values):
        """Press something that cannot be done; gives the sentence, after nothing was changed."""
        before = self.book.design
        answer = self.ask("do", panel=panel, name=name, values=values, buffers=buffers)
        assert self.book.design is before
        return answer["error"]

    def enter(self, name, value):
        """Enter a value for a decision."""
        answer = self.ask("set", name=name, value=value)
        assert "error" not in answer, answer["error"]

    def open(self, panel):
        """Open a panel and give what it shows."""
        answer = self.ask("open", panel=panel)
        assert "error" not in answer, answer["error"]
        return self.book.panel


def squares_in(shown):
    """The colours of a picture of squares as the page gets it, (rows, stitches), each a text."""
    numbers = np.frombuffer(shown["squares"], np.uint8).reshape(shown["rows"], shown["stitches"])
    return np.array(shown["colours"])[numbers]
