"""Minutes of hands and eyes by the keystroke-level model: what is typed, pointed at, pressed, thought about and read.

The model: Card, Moran and Newell, "The keystroke-level model for user performance time with interactive systems",
Communications of the ACM 23(7), 1980, 396 to 410. Its times of an operator were read in a table that repeats them
(University of Hamburg, "GOMS", asi-www.informatik.uni-hamburg.de/informatik/SE_Evaluation/html/pages/goms.htm): a key
0.20 s for an average skilled typist (55 words a minute) and 0.28 s for an average non-secretary typist (40), pointing
1.10 s, a hand brought to keyboard or mouse 0.40 s, the mind made up 1.35 s, a click 0.2 s. Reading at 200 words a
minute: our own choice, slower than most adults read prose.
"""

from dataclasses import dataclass

KEY_S, SLOW_KEY_S = 0.20, 0.28
POINT_S, HAND_S, THINK_S = 1.10, 0.40, 1.35
CLICK_S = 0.2  # pressed and let go, 0.1 s each
WORDS_A_MINUTE = 200


@dataclass
class Hands:
    """What a person did: keys, points and clicks, hands moved between keyboard and mouse, answers, folds, words."""

    keys: int = 0
    points: int = 0
    moves: int = 0
    thoughts: int = 0
    answers: int = 0
    folds: int = 0
    words: int = 0
    at_keys: bool = False

    def point(self) -> None:
        """Point at something and click it."""
        self._at(keys=False)
        self.points += 1

    def unfold(self) -> None:
        """Open a fold: seen, pointed at, clicked."""
        self.folds += 1
        self.thoughts += 1
        self.point()

    def press(self) -> None:
        """Press a button of the page."""
        self.thoughts += 1
        self.point()

    def answer(self) -> None:
        """Make up the mind about one question."""
        self.answers += 1
        self.thoughts += 1

    def keyed(self, text: str, by_tab: bool) -> None:
        """Type an answer, into the next field by the Tab key or after a click into it."""
        if not by_tab:
            self.point()
        self._at(keys=True)
        self.keys += len(text) + by_tab + sum(letter.isupper() for letter in text)

    def choose(self, clicks: int) -> None:
        """Answer by the mouse: a tick or a button is one click, a list is two."""
        self.answer()
        for _ in range(clicks):
            self.point()

    def read(self, words: int) -> None:
        """Read so many words."""
        self.words += words

    def minutes(self, key_s: float = KEY_S) -> float:
        """All of it, with so many seconds a key."""
        hands = self.keys * key_s + self.points * (POINT_S + CLICK_S) + self.moves * HAND_S + self.thoughts * THINK_S
        return hands / 60 + self.words / WORDS_A_MINUTE

    def _at(self, keys: bool) -> None:
        if keys != self.at_keys:
            self.moves += 1
            self.at_keys = keys
