"""One small good farm folder as text, and how tests change it."""

from __future__ import annotations

import shutil
from importlib.resources import as_file, files
from pathlib import Path

GOOD: dict[str, str] = {
    "farm.toml": """\
# The hill place, planned in autumn
format = 1
name = "Hill farm"
place = "Upper valley"
units = "us"

[season]
start = 2025-11-15
end = 2026-04-15
period_days = 7
rainfall_in_per_year = 42
""",
    "lots.csv": """\
lot,name,forage,species,package,storage,wrap,bales,bale_weight_lb,bale_diameter_in,bale_width_in,\
moisture_pct,field,cutting,baled_on,counted_on,value_usd_per_ton,rained_on,note
A1,Barn orchardgrass,cool_grass,orchardgrass,round,enclosed_barn,net,120,"1,150",60,60,\
14,North,1,2025-06-10,2025-11-01,110,no,
B2,Tarp fescue,cool_grass,tall fescue,round,covered_elevated,net,80,1050,60,60,\
15.5,River,1,2025-06-02,2025-11-01,80,yes,"under the tarp, west end"
C3,Hill alfalfa,alfalfa,alfalfa,large_square,roof_open_sides,,40,,,,\
13,Hill,2,2025-07-20,2025-11-01,180,no,
""",
    "reports.csv": """\
report,lot,sampled_on,reported_on,lab,lab_no,method,cores,dm_pct_ar,cp_pct_dm,adf_pct_dm,\
ndf_pct_dm,tdn_pct_dm,nitrate_no3n_ppm_dm,nitrate_no3n_method
R1,A1,2025-10-01,2025-10-09,County lab,1001,NIR,20,88.2,11.4,36.1,58.9,57.8,<200,wet chemistry
R2,B2,2025-10-01,2025-10-09,County lab,1002,NIR,18,86.9,8.7,39.5,64.0,53.9,ND,
""",
    "groups.csv": """\
group,name,class,head,weight_lb,mature_weight_lb,finish_weight_lb,condition_score,age_months,\
calving_on,weaning_on,gain_lb_per_day,target_weight_lb,target_on,feeder,from_on,to_on
COWS,Mature cows,cow,60,1250,,,5,,2026-03-01,2026-10-01,,,,cone_ring,,
HEIF,First-calf heifers,first_calf_heifer,12,950,1250,,5.5,,2026-02-15,,,,,open_ring,,
STOCK,Stockers,stocker,30,520,,1250,,9,,,1.5,,,bunk,,
""",
    "feeds.csv": """\
feed,name,kind,price_usd_per_ton,table_id,dm_pct,tdn_pct,cp_pct,ca_pct,most_ton,bale_weight_lb
cubes,20 % cubes,supplement,390,,90,72,22,,20,50
corn,Cracked corn,grain,240,corn_grain_dry_rolled,,,,,,
lime,Ground limestone,mineral,300,,100,,,36,,
""",
    "needs.csv": """\
group,start,end,nem_mcal,cp_lb,least_dm_lb,most_dm_lb
COWS,2025-11-15,2026-01-15,10.5,1.9,20,28
""",
    "weather.csv": """\
day,mean_temperature_degF,wind_mph,precipitation_in
2026-01,28.5,9,2.8
2026-01-05,12,15,
""",
    "fed.csv": """\
day,source,group,bales,mass_lb,note
2025-11-16,A1,COWS,2,,
2025-11-16,cubes,HEIF,,120,
""",
    "moves.csv": """\
day,lot,kind,bales,mass_lb,to,named,note
2025-06-12,A1,put_up,121,,,,
2025-11-20,A1,sold,4,4600,,,to a neighbour
2025-12-01,A1,correction,-1,,,J. Hand,one bale was counted twice
""",
    "labs.csv": """\
lab,package,price_usd,tests,chemistry,working_days
County lab,Basic,16,dm cp adf ndf tdn,NIR,5
County lab,Nitrate,7,nitrate_no3n,wet chemistry,5
""",
    "wishes.csv": """\
wish,source,group,start,end,as_fed_lb_per_head_day,note
feed,A1,HEIF,2026-02-01,2026-03-15,,the barn hay around calving
keep_off,cubes,,,2026-01-01,,
amount,A1,STOCK,,,4,
""",
}
# The lot without a weight has a size, in columns of its own.
GOOD["lots.csv"] = (
    GOOD["lots.csv"]
    .replace("moisture_pct,field", "bale_length_ft,bale_height_ft,moisture_pct,field")
    .replace("60,60,14", "60,60,,,14")
    .replace("60,60,15.5", "60,60,,,15.5")
    .replace("40,,,,13", "40,,,36,8,3,13")
)

#: The farm with a short season and no wish.
SHORT = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"].replace("2026-04-15", "2025-12-20"),
    "wishes.csv": GOOD["wishes.csv"].splitlines()[0] + "\n",
}

HEADER = {file: text.split("\n")[0].split(",") for file, text in GOOD.items()}


def write_texts(folder: Path, texts: dict[str, str | bytes]) -> Path:
    """Write texts as the files of a folder, line ends as they are."""
    folder.mkdir(exist_ok=True, parents=True)
    for name, text in texts.items():
        data = text.encode() if isinstance(text, str) else text
        (folder / name).write_bytes(data)
    return folder


def good_folder(folder: Path) -> Path:
    """Write the good folder."""
    return write_texts(folder, dict(GOOD))


def edited(file: str, old: str, new: str) -> str:
    """Return a file of the good folder with one piece of text changed."""
    assert GOOD[file].count(old) == 1, f"{old!r} stands {GOOD[file].count(old)} times in {file}"
    return GOOD[file].replace(old, new)


def in_text(file: Path, old: str, new: str) -> None:
    """Change a piece of text wherever it stands in a file."""
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def plain_demo(folder: Path) -> Path:
    """Copy the demonstration farm to be planned at once: by four weeks, no rules, no wishes."""
    with as_file(files("rickyard") / "demo_farm") as shipped:
        shutil.copytree(shipped, folder)
    settings = folder / "farm.toml"
    rules = ("hays_at_once", "least_run_days", "change_usd", "reserve_days", "simpler_for_pct")
    lines = settings.read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [one for one in lines if not one.startswith(rules)]
    assert len(lines) - len(kept) == len(rules)
    settings.write_text("".join(kept), encoding="utf-8")
    in_text(settings, "period_days = 7", "period_days = 28")
    groups, feeds = folder / "groups.csv", folder / "feeds.csv"
    for file, old, new in ((groups, ",1.2,1,", ",1.2,,"), (feeds, ",6000,", ",,")):
        in_text(file, old, new)
    (folder / "wishes.csv").unlink()
    return folder
