"""Samples as they are taken, bale by bale, and sent to a laboratory."""

# fmt: off
from rickyard.book.coring.coring import (
    SampleBegun, begin_anew, sample_begun, samples_sent, send_sample, take_core, undo_core,
)

__all__ = [
    "SampleBegun", "begin_anew", "sample_begun", "samples_sent", "send_sample", "take_core",
    "undo_core",
]
