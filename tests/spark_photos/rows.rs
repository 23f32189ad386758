//! Drawn pictures as the network that tells bursts sees them, to learn from:
//! `SPARK_FOLDER=pics OUT=sights cargo test --release burst_sights_are_written -- --ignored`, read by
//! `training-data/burst_net.py`. Pictures with truth beside them are those that `dump_spark_pictures` writes (seeds 3000 to
//! 3999 are for learning: no figure is told of them) and those of `training-data/simple_sparks.py`.

use crate::support::draw_sparks::Truth;
use snapspark::photo::{Limits, decode};
use snapspark::spark::{Sight, sight};
use std::io::Write;
use std::path::{Path, PathBuf};

/// What counts as a find, px, or half the mean ray. The rule of the score.
const FIND_PX: f64 = 8.0;
/// Noise is written of every such place of every such row.
const NOISE_STEP: usize = 8;

/// Per picture, 32-bit little-endian: width, height, the contact, the number of visible bursts; for each of them its middle,
/// what counts as a find of it, its visible rays, 1 if it is resolvable; the light, row by row; the noise. All in places.
#[test]
#[ignore = "writes files; run by name with SPARK_FOLDER, OUT"]
fn burst_sights_are_written() {
    let variable = |name: &str| std::env::var(name).unwrap_or_else(|_| panic!("{name} is not set"));
    let (pictures, out) = (PathBuf::from(variable("SPARK_FOLDER")), PathBuf::from(variable("OUT")));
    std::fs::create_dir_all(&out).expect("the folder can be made");
    for entry in std::fs::read_dir(&pictures).expect("a folder").flatten() {
        let path = entry.path();
        if path.extension().is_none_or(|e| e != "json") {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("a truth can be read");
        let truth: Truth = serde_json::from_str(&text).expect("a truth");
        let bytes = std::fs::read(pictures.join(&truth.file)).expect("a picture beside its truth");
        let photo = decode(&bytes, &Limits::default()).expect("a drawn picture can be read");
        let Ok(sight) = sight(&photo.picture) else { continue };
        write(&out.join(&truth.file).with_extension("f32"), &sight, &truth).expect("written");
    }
}

fn write(path: &Path, sight: &Sight, truth: &Truth) -> std::io::Result<()> {
    let mut file = std::io::BufWriter::new(std::fs::File::create(path)?);
    let mut put = |v: f32| file.write_all(&v.to_le_bytes());
    let places = |px: f64| (px / sight.pitch) as f32;
    let visible: Vec<_> = truth.bursts.iter().filter(|b| b.visible).collect();
    for v in [sight.width, sight.height].map(|v| v as f32) {
        put(v)?;
    }
    for v in sight.contact {
        put(v as f32)?;
    }
    put(visible.len() as f32)?;
    for burst in visible {
        let reach = FIND_PX.max(0.5 * burst.mean_ray_px);
        let at = [0, 1].map(|k| burst.at[k] - sight.corner[k]);
        for v in [at[0], at[1], reach].map(places) {
            put(v)?;
        }
        put(burst.rays_visible as f32)?;
        put(f32::from(u8::from(burst.resolvable)))?;
    }
    for v in &sight.light {
        put(*v)?;
    }
    for row in sight.noise.chunks(sight.width).step_by(NOISE_STEP) {
        for v in row.iter().step_by(NOISE_STEP) {
            put(*v)?;
        }
    }
    file.flush()
}
