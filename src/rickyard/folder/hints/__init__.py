"""What people of the trade write in a farm folder, and the word of the folder that is meant.

A table of words, not of guesses: it stands before the nearest spelling.
"""

# fmt: off
from rickyard.folder.hints.trade_words import TradeWord, trade_word

__all__ = ["TradeWord", "trade_word"]
