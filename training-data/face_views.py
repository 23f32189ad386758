"""What the network of `face_net.py` is shown of a photo of a fracture face, and what is true of each place.

    python3 face_views.py OUT FOLDER...     # folders of `draw_faces`, `draw_face_sets`, `draw_unusable_faces`, and of any
                                            # pictures without a face, which have no truth beside them

Writes one `.npz` for each drawn picture: the whole photo (`photo`, `photo_is`) and, where there is a face, the face laid
flat with much around it (`flat`, `flat_is`). A place is told by light, two shades and swings of the light in two bands, as
`src/fracture/measured/sight.rs` has them; it is 0 beside the face, 1 core, 2 case, 3 face of which nothing is asked (at
chips), 4 neither case nor core: a lip, or the wall of a nick. Needs NumPy, SciPy and OpenCV.
"""

import json
import sys
from pathlib import Path

import cv2
import numpy as np
from scipy import ndimage

# As in src/fracture/measured/sight.rs.
FINE, DARK, STILL = 1600, 0.004, 0.004
# Longest side of what is kept, places, and of a face laid flat, px; what is kept around it, share of its thickness.
KEPT, FLAT, MARGIN = 420, 900, 0.35
# How far off corners of an outline may be, share of the thickness: one standard deviation.
OFF = 0.015
GRID = 900  # longest side of the map of what is true, places
BESIDE, CORE, CASE, FACE, NEITHER = range(5)

CENTRES = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])  # from numbers of pixels to their middles


def linear(encoded):
    """Linear light of 8-bit values (IEC 61966-2-1)."""
    v = np.arange(256) / 255
    table = np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4)
    return table.astype(np.float32)[encoded]


def shrunk(planes, by):
    """Means of squares."""
    h, w = planes.shape[0] // by, planes.shape[1] // by
    return planes[: h * by, : w * by].reshape(h, by, w, by, -1).mean((1, 3))


def told(rgb):
    """What is told of a picture in linear light, shrunk to what is kept; and by how much it was shrunk."""
    total = rgb.sum(2) + 3 * DARK
    light = np.log(total / 3)
    level = light - light.mean()
    box = lambda p, r: ndimage.uniform_filter(p, 2 * r + 1, mode="constant")
    near = box(level, 1)
    swings = np.abs(level - near), np.abs(near - box(box(near, 2), 2))
    planes = np.stack([light, (rgb[..., 0] + DARK) / total, (rgb[..., 2] + DARK) / total, *swings], 2)
    by = max(1, int(np.ceil(max(planes.shape[:2]) / KEPT)))
    planes = shrunk(planes, by)
    planes[..., 3:] = np.log(planes[..., 3:] + STILL)
    return planes.astype(np.float16), by


def true(face):
    """What is true of places of the face's plane; from there to mm."""
    outline = np.array(face["outline_mm"])
    low, high = outline.min(0) - 0.3, outline.max(0) + 0.3
    scale = GRID / max(high - low)
    width, height = np.ceil((high - low) * scale).astype(int)
    grid = lambda p: np.round((np.asarray(p) - low) * scale).astype(np.int32)
    on = np.zeros((height, width), np.uint8)
    cv2.fillPoly(on, [grid(outline)], 1)
    if face["class"] == "through":
        is_ = on * CASE
    elif not face["border_mm"]:
        is_ = on * CORE
    else:
        is_ = parted(face, on, grid, outline)
        for side, sample in samples(face):
            if sample["spoiled"] or side["nicked"]:
                reach = 0.05 * face["thickness_mm"] + 0.35 * (sample["depth"] or 0)
                spot = np.zeros_like(on)
                cv2.circle(spot, [int(v) for v in grid(sample["at"])], int(reach * scale), 1, -1)
                is_[(spot > 0) & (on > 0)] = FACE
    for band in face["bands_mm"]:
        lies = np.zeros_like(on)
        cv2.fillPoly(lies, [grid(band)], 1)
        is_[(lies > 0) & (on > 0)] = NEITHER
    return is_, np.array([[1 / scale, 0, low[0]], [0, 1 / scale, low[1]], [0, 0, 1]])


def samples(face):
    return [(side, sample) for side in face["sides"] for sample in side["samples"]]


def parted(face, on, grid, outline):
    """The face cut along its borders; samples of depth vote for what each part is."""
    cut = on.copy()
    for line in map(np.array, face["border_mm"]):
        cv2.polylines(cut, [grid(line)], False, 0, 2)
        if np.hypot(*(line[0] - line[-1])) > 0.06:  # it ends at the outline: carried on to beyond it
            for end in (line[0], line[-1]):
                near = outline[np.argmin(np.hypot(*(outline - end).T))]
                beyond = near + (near - end) / max(np.hypot(*(near - end)), 1e-6) * 0.08
                cv2.line(cut, grid(end).tolist(), grid(beyond).tolist(), 0, 2)
    count, parts = cv2.connectedComponents(cut, connectivity=4)
    votes = np.zeros((count, 2))
    corners = np.array(face["corners_mm"])
    for side, sample in samples(face):
        at, depth = np.array(sample["at"]), sample["depth"]
        if len(corners):
            a, b = corners[side["index"]], corners[(side["index"] + 1) % len(corners)]
            along = (b - a) / np.linalg.norm(b - a)
            inward = np.array([-along[1], along[0]])
        else:
            inward = -at / max(np.linalg.norm(at), 1e-9)
        asked = [(0.1, 1)] if depth is None else [(0.06, 0)] if depth == 0 else [(depth + 0.05, 0)]
        if depth and depth > 0.06:
            asked += [(depth - 0.04, 1), (depth / 2, 1)]
        for deep, case in asked:
            x, y = grid(at + inward * deep)
            if 0 <= y < on.shape[0] and 0 <= x < on.shape[1]:
                votes[parts[y, x], case] += 1
    what = np.where(votes.sum(1) > 0, np.where(votes[:, 1] > votes[:, 0], CASE, CORE), BESIDE)
    what[0] = BESIDE
    is_ = what[parts].astype(np.uint8)
    lines = (on > 0) & (is_ == BESIDE)  # and parts that nobody voted for: as their nearest
    if lines.any() and (is_ > 0).any():
        nearest = ndimage.distance_transform_edt(is_ == BESIDE, return_distances=False, return_indices=True)
        is_[lines] = is_[tuple(i[lines] for i in nearest)]
    return is_


def laid(is_, to_photo, by, size):
    """What is true of a picture that was shrunk, from the plane of the face."""
    to_kept = np.array([[1 / by, 0, -0.5], [0, 1 / by, -0.5], [0, 0, 1]]) @ to_photo @ CENTRES
    return cv2.warpPerspective(is_, to_kept, size[::-1], flags=cv2.INTER_NEAREST)


def flat_view(rgb, to_photo, size, thickness, px_per_mm, chance):
    """The face laid flat by an outline that is a little off; and from its px to mm."""
    sx, sy = size
    scale = min(FLAT / max(sx, sy), px_per_mm)
    margin = MARGIN * thickness * scale
    corners = margin + scale * np.array([[0, 0], [sx, 0], [sx, sy], [0, sy]])
    corners += chance.normal(0, OFF, (4, 2)) * thickness * scale
    mm = 0.5 * np.array([[-sx, -sy], [sx, -sy], [sx, sy], [-sx, sy]])
    to_mm = cv2.getPerspectiveTransform(corners.astype(np.float32), mm.astype(np.float32))
    whole = [int(v * scale + 2 * margin) for v in size]
    to_photo = to_photo @ to_mm
    at = [to_photo @ [whole[0] / 2 + i, whole[1] / 2, 1] for i in (0, 1)]
    by = int(np.clip(np.linalg.norm(at[1][:2] / at[1][2] - at[0][:2] / at[0][2]) + 0.25, 1, 8))
    back = np.linalg.inv(np.array([[1 / by, 0, -0.5], [0, 1 / by, -0.5], [0, 0, 1]]) @ to_photo @ CENTRES)
    return cv2.warpPerspective(shrunk(rgb, by), back, whole, borderMode=cv2.BORDER_REPLICATE), to_mm


def views(rgb, is_, grid_to_mm, mm_to_photo, size, thickness, px_per_mm, chance):
    """Both views of a picture with a face, and what is true of them."""
    first = int(np.clip(max(rgb.shape[:2]) / FINE + 0.5, 1, 8))
    photo, by = told(shrunk(rgb, first))
    flat, to_mm = flat_view(rgb, mm_to_photo, size, thickness, px_per_mm, chance)
    flat, flat_by = told(flat)
    to_flat = np.linalg.inv(to_mm) @ grid_to_mm
    return {
        "photo": photo,
        "photo_is": laid(is_, mm_to_photo @ grid_to_mm, first * by, photo.shape[:2]),
        "flat": flat,
        "flat_is": laid(is_, to_flat, flat_by, flat.shape[:2]),
    }


def empty(picture):
    """What is kept of a picture without a face; a small one is enlarged first."""
    by = max(1, 2 * KEPT / max(picture.shape[:2]))
    rgb = linear(cv2.resize(picture, None, fx=by, fy=by, interpolation=cv2.INTER_CUBIC) if by > 1 else picture)
    photo, _ = told(shrunk(rgb, int(np.clip(max(rgb.shape[:2]) / FINE + 0.5, 1, 8))))
    return {"photo": photo, "photo_is": np.zeros(photo.shape[:2], np.uint8)}


def of_picture(path, truth):
    """What is kept of one picture."""
    picture = cv2.imread(str(path), cv2.IMREAD_COLOR)[..., ::-1]
    face = truth["face"]
    if face is None:
        return empty(picture)
    rgb = linear(picture)
    is_, to_mm = true(face)
    chance = np.random.default_rng(truth["seed"])
    to_photo = np.array(face["homography"])
    return views(rgb, is_, to_mm, to_photo, face["size_mm"], face["thickness_mm"], face["px_per_mm"], chance)


if __name__ == "__main__":
    out = Path(sys.argv[1])
    out.mkdir(exist_ok=True)
    for folder in map(Path, sys.argv[2:]):
        for path in sorted([*folder.glob("*.jpg"), *folder.glob("*.png")]):
            beside = path.with_suffix(".json")
            truth = json.loads(beside.read_text()) if beside.exists() else {"face": None, "kind": "NoFace"}
            kept = of_picture(path, truth)
            np.savez(out / f"{folder.name}-{path.stem}.npz", kind=truth["kind"], **kept)
