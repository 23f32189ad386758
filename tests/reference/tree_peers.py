"""Reference votes for the tree of `src/tree/`: scikit-learn's decision tree with small leaves held back.

    python tree_peers.py    write tree_peers.csv and tree_votes.csv beside this file

Data: tree_iris.csv, tree_wine.csv and tree_cancer.csv, which tree_sklearn.py makes, read from those files.

Folds: ten a set. The fold of a row is its position in a seeded permutation of all rows, modulo ten; tree_votes.csv
holds it.

Each row is asked once, of a tree that has not seen its fold. scikit-learn breaks tied scores by a shuffle of the
features, so each tree is fitted with nine seeds, Gini, weights 1.

tree_peers.csv: accuracy in %, mean, least and most over the seeds, and `apart`: how far the votes of two seeds are
apart, the mean over rows, classes and pairs of seeds of the absolute difference of the class shares.
tree_votes.csv: the fold and the class shares of each row, the mean over the seeds, to three decimals.
"""
from itertools import combinations

import numpy as np
import sklearn
from sklearn.tree import DecisionTreeClassifier

from tree_sklearn import HERE, LICENCE, SETS, write

SETTINGS = ((3, 5), (6, 2))
FOLDS, SEEDS, PERMUTATION = 10, 9, 1
TOLERANCE = (
    "Tolerance, before the first run: accuracy at most 3 points below scikit-learn's mean in any row, 1 in the mean of",
    "all rows; class shares apart by at most 0.05 in any row (absolute, mean over rows and classes), 0.03 in the mean.",
)


def read(name):
    """Values and labels of a data file, without the levels."""
    lines = [line for line in (HERE / f"tree_{name}.csv").read_text().splitlines() if not line.startswith("#")]
    cells = np.array([[float(cell) for cell in line.split(",")[:-1]] for line in lines[1:]])
    return cells[:, 1:], cells[:, 0].astype(int)


def shares(values, labels, fold, depth, leaf, seed):
    """Class shares of each row, by a tree of the other folds."""
    found = np.zeros((len(labels), labels.max() + 1))
    for k in range(FOLDS):
        tree = DecisionTreeClassifier(max_depth=depth, min_samples_leaf=leaf, random_state=seed)
        tree.fit(values[fold != k], labels[fold != k])
        found[fold == k] = tree.predict_proba(values[fold == k])
    return found


def main():
    votes = [("set", "depth", "leaf", "fold", "votes")]
    figures = [("set", "depth", "leaf", "accuracy", "least", "most", "apart")]
    for name in SETS:
        values, labels = read(name)
        fold = np.empty(len(labels), int)
        fold[np.random.default_rng(PERMUTATION).permutation(len(labels))] = np.arange(len(labels)) % FOLDS
        for depth, leaf in SETTINGS:
            found = [shares(values, labels, fold, depth, leaf, seed) for seed in range(SEEDS)]
            right = [100 * (of_seed.argmax(axis=1) == labels).mean() for of_seed in found]
            apart = np.mean([abs(a - b).mean() for a, b in combinations(found, 2)])
            accuracy = (f"{v:.2f}" for v in (np.mean(right), min(right), max(right)))
            figures.append((name, depth, leaf, *accuracy, f"{apart:.4f}"))
            print(*figures[-1])
            mean = np.round(np.mean(found, axis=0), 3)
            votes += [(name, depth, leaf, k, " ".join(f"{v:g}" for v in row)) for k, row in zip(fold, mean)]
    made = f"scikit-learn {sklearn.__version__}, NumPy {np.__version__}, made by tree_peers.py"
    data = f"Data: {LICENCE}, authors in the data files"
    write("tree_peers.csv", [f"{made}, which says what the columns are", data, *TOLERANCE], figures)
    write("tree_votes.csv", [f"{made}; rows in the order of the data files", data], votes)


if __name__ == "__main__":
    main()
