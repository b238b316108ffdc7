"""``rickyard feeds`` as a person types it."""

from __future__ import annotations

import json

from click.testing import CliRunner, Result

from rickyard.cli.main import main


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["feeds", *arguments], catch_exceptions=False)


def test_a_feed_is_listed_with_what_it_holds_and_how_it_is_priced() -> None:
    result = run("wheat", "mids")
    assert result.exit_code == 0
    line = next(one for one in result.stdout.splitlines() if one.startswith("wheat_middlings"))
    assert line.split()[-4:] == ["88.8", "75.0", "18.6", "ton"]
    assert "surer" in result.stdout


def test_dry_and_wet_are_said_to_be_different() -> None:
    result = run("corn", "gluten", "feed")
    assert result.stdout.index("corn_gluten_feed_dry") < result.stdout.index("corn_gluten_feed_wet")
    assert "different feeds" in result.stdout
    assert "different feeds" not in run("dry", "gluten").stdout


def test_json_holds_the_same() -> None:
    told = json.loads(run("hulls", "--json").stdout)
    assert told["rickyard"] == "feeds"
    hulls = {one["table_id"]: one for one in told["feeds"]}
    assert hulls["soybean_hulls"]["tdn_pct_dm"] == 77.0
    assert hulls["soybean_hulls"]["source"]


def test_nothing_found_is_said_and_left_with_one() -> None:
    result = run("xyz\x1b[31mzy")
    assert result.exit_code == 1
    assert "\x1b" not in result.output
    assert "list all with rickyard feeds" in result.stderr
    empty = run("xyzzy", "--json")
    assert (empty.exit_code, json.loads(empty.stdout)["feeds"]) == (1, [])


def test_without_words_all_feeds_are_listed() -> None:
    result = run()
    assert result.exit_code == 0
    assert "corn_grain_dry_rolled" in result.stdout
    assert "trace_mineral_salt" in result.stdout
