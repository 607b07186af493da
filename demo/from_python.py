"""twodrum from Python: functions with quantities and series, a job as a table.

    .venv/bin/python demo/from_python.py

Needs pint and pandas, which the package brings. The job is the invented one of the demo.
"""

import tempfile
from pathlib import Path

import pandas
import pint

import twodrum
from twodrum.commands.demo import make_demo

units = pint.UnitRegistry()


def main() -> None:
    """Three short examples, printed."""
    # A number is in the default unit of its argument, a text or a quantity brings its own.
    dew = twodrum.call("TD_DEW_POINT", units.Quantity(68, "degF"), "70 %")
    print(f"Dew point of air at 68 °F and 70 %: {dew:.1f~P}")

    # A series gives a series with its index: dew points through a day.
    air = pandas.Series([12.0, 17.5, 21.0], index=["08:00", "12:00", "16:00"])
    print(twodrum.call("TD_DEW_POINT", air, 0.65).round(1).rename("dew point, °C").to_string())

    # A job as plain data, one row for each result.
    with tempfile.TemporaryDirectory() as folder:
        make_demo(Path(folder) / "demo")
        said = twodrum.check(str(Path(folder) / "demo" / "job-metric.xlsx"))
    results = pandas.DataFrame.from_dict(said["results"], orient="index")
    wanted = ["measured_area_total", "lining_volume", "drum_sets", "net_price"]
    print(results.loc[wanted, ["value", "unit"]].to_string())


if __name__ == "__main__":
    main()
