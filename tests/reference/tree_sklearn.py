"""Reference figures for the tree of `src/tree/`: the same rows, folds and depths in scikit-learn.

    python tree_sklearn.py    write tree_{iris,wine,cancer}.csv, tree_folds.csv and tree_sklearn.csv beside this file

Data: the sets that scikit-learn ships (iris, wine, breast cancer), 150, 178 and 569 rows, from the UCI Machine
Learning Repository, which gives them under CC BY 4.0; scikit-learn has set two rows of iris right by Fisher's paper.

ord5: each feature cut to its own quintiles over the whole set, as a trait described in five words would be.
The level of a value is the number of the feature's 20, 40, 60 and 80 % quantiles (straight lines between
order statistics) that are at or below it; many values share a level, and some levels can be empty.
Each row of a data file holds its label, its values, and its levels as one string of digits.

Folds: StratifiedKFold(5, shuffle=True, random_state=repeat), repeat 0..9, made on the labels alone. The file
holds one line per repeat: the fold of each row as one digit.

Accuracy: share of right answers over all rows and repeats, each row asked once a repeat of a tree that has not
seen it. Gini, at least one row a leaf. scikit-learn breaks tied scores by a shuffle of the features, so every
tree is fitted with five seeds; the mean stands in `accuracy`, the least and the most over the seeds beside it.
"""
import csv
from pathlib import Path

import numpy as np
import sklearn
from sklearn.datasets import load_breast_cancer, load_iris, load_wine
from sklearn.model_selection import StratifiedKFold
from sklearn.tree import DecisionTreeClassifier

HERE = Path(__file__).parent
SETS = {"iris": load_iris, "wine": load_wine, "cancer": load_breast_cancer}
SOURCES = {
    "iris": "R. A. Fisher, The use of multiple measurements in taxonomic problems, Annals of Eugenics 7 (1936) 179",
    "wine": "M. Forina and others; S. Aeberhard, M. Forina, Wine, UCI (1992)",
    "cancer": "W. Wolberg, W. N. Street, O. Mangasarian, Breast Cancer Wisconsin (Diagnostic), UCI (1995)",
}
LICENCE = "UCI Machine Learning Repository, CC BY 4.0"
DEPTHS, REPEATS, SEEDS = (3, 5), 10, 5


def write(name, head, rows):
    with open(HERE / name, "w", newline="") as file:
        file.writelines(f"# {line}\n" for line in head)
        csv.writer(file, lineterminator="\n").writerows(rows)


def levels(values):
    cuts = np.quantile(values, [0.2, 0.4, 0.6, 0.8], axis=0)
    return (values[None] >= cuts[:, None]).sum(axis=0)


def accuracies(values, labels, folds, depth):
    """Share of right answers for each seed, over all repeats."""
    found = []
    for seed in range(SEEDS):
        right = 0
        for fold in folds:
            for k in range(5):
                tree = DecisionTreeClassifier(max_depth=depth, random_state=seed)
                tree.fit(values[fold != k], labels[fold != k])
                right += (tree.predict(values[fold == k]) == labels[fold == k]).sum()
        found.append(right / (len(labels) * len(folds)))
    return found


def main():
    fold_rows, figures = [("set", "repeat", "folds")], [("set", "form", "depth", "accuracy", "least", "most")]
    for name, load in SETS.items():
        data = load()
        values, labels, ord5 = data.data, data.target, levels(data.data)
        names = [n.removesuffix(" (cm)").replace("/", " ") for n in data.feature_names]
        write(
            f"tree_{name}.csv",
            [
                SOURCES[name],
                f"{LICENCE}; as in scikit-learn {sklearn.__version__}, {load.__name__}; levels as in tree_sklearn.py",
            ],
            [["label", *names, "levels"]]
            + [[y, *map(repr, map(float, x)), "".join(map(str, q))] for x, y, q in zip(values, labels, ord5)],
        )
        folds = []
        for repeat in range(REPEATS):
            fold = np.empty(len(labels), int)
            split = StratifiedKFold(5, shuffle=True, random_state=repeat).split(values, labels)
            for k, (_, test) in enumerate(split):
                fold[test] = k
            folds.append(fold)
            fold_rows.append((name, repeat, "".join(map(str, fold))))
        for form, table in (("continuous", values), ("ord5", ord5.astype(float))):
            for depth in DEPTHS:
                got = accuracies(table, labels, folds, depth)
                figures.append((name, form, depth, *(f"{100 * v:.2f}" for v in (np.mean(got), min(got), max(got)))))
                print(*figures[-1])
    write("tree_folds.csv", ["the fold of each row, in the order of the data file; made by tree_sklearn.py"], fold_rows)
    write(
        "tree_sklearn.csv",
        [f"scikit-learn {sklearn.__version__}, NumPy {np.__version__}, made by tree_sklearn.py; accuracy in % over five seeds"],
        figures,
    )


if __name__ == "__main__":
    main()
