"""A first farm folder by asking: the questions, what is assumed where nobody knows, the texts.

Knows no terminal: whoever asks hands in a way to ask and a way to say.
"""

# fmt: off
from rickyard.draft.asking import Asking
from rickyard.draft.assumptions import USUAL_BALE_LB
from rickyard.draft.by_pages import END, Heard, Page, Question, hear, hear_all
from rickyard.draft.closing import surer
from rickyard.draft.interview import Answers, interview
from rickyard.draft.texts import texts_of

__all__ = [
    "Answers", "Asking", "END", "Heard", "Page", "Question", "USUAL_BALE_LB", "hear", "hear_all",
    "interview", "surer", "texts_of",
]
