"""Reference values for the trend estimators, by SciPy. Run: /usr/bin/python3 scripts/reference/trend_reference.py

The printed output is kept in tests/PackCare.Analysis.Tests/Statistics/ScipyReferenceTests.cs.
"""
import scipy
from scipy import stats

# Days and milliohms of an invented series with one outlier and one repeated day.
DAYS = [0, 7, 16, 30, 30, 47, 61, 80, 95, 130]
MILLIOHMS = [4.10, 4.14, 4.09, 4.22, 4.19, 4.31, 5.20, 4.44, 4.52, 4.70]

print("scipy", scipy.__version__)
slope, intercept, low, high = stats.theilslopes(MILLIOHMS, DAYS, 0.95)
print(f"theilslopes slope {slope:.15g}")
line = stats.linregress(DAYS, MILLIOHMS)
print(f"linregress slope {line.slope:.15g} intercept {line.intercept:.15g}")
print(f"linregress slope_se {line.stderr:.15g} intercept_se {line.intercept_stderr:.15g}")
for df in (1, 2, 3, 5, 8, 13, 30, 120):
    print(f"t.ppf(0.975, {df}) {stats.t.ppf(0.975, df):.15g}  t.ppf(0.995, {df}) {stats.t.ppf(0.995, df):.15g}")
