"""Writes logistic.csv: rows drawn from a fixed seed, and the weights that scikit-learn finds for them.

    python logistic.py > logistic.csv
"""
import numpy as np
import sklearn
from sklearn.linear_model import LogisticRegression

dice = np.random.default_rng(6)
x = np.round(dice.normal(size=(60, 3)) * [1.0, 4.0, 0.2] + [0.0, 10.0, -1.0], 3)
x[:, 2] = np.round(x[:, 2] + 0.1 * x[:, 0], 3)
y = (x[:, 0] - 0.4 * (x[:, 1] - 10) + dice.logistic(size=60) > 0).astype(int)
print(f"# scikit-learn {sklearn.__version__}, NumPy {np.__version__}; made by logistic.py")
print("what,offset_or_answer,a,b,c")
for row, answer in zip(x, y):
    print(f"row,{answer}," + ",".join(f"{v:.3f}" for v in row))
mean, spread = x.mean(0), x.std(0)
for ridge in (0.5, 20.0):
    fit = LogisticRegression(C=1 / ridge, tol=1e-10, max_iter=10_000).fit((x - mean) / spread, y)
    weights = fit.coef_[0] / spread
    print(f"ridge {ridge},{fit.intercept_[0] - weights @ mean:.9f}," + ",".join(f"{w:.9f}" for w in weights))
