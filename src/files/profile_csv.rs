//! Carbon profiles as a table.

use crate::prediction::Prediction;

/// `stage,depth_mm,carbon_wt_pct`: the coupon's profile after each stage of the best story. Depths
/// in mm to a nanometre, carbon in wt% to 1e-6.
pub fn profile_csv(prediction: &Prediction) -> Result<Vec<u8>, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(["stage", "depth_mm", "carbon_wt_pct"])?;
    for stage in &prediction.stages {
        for (depth, carbon) in stage.profile.points() {
            let row = [stage.stage.name(), &format!("{:.6}", depth * 1e3), &format!("{carbon:.6}")];
            writer.write_record(row)?;
        }
    }
    writer.into_inner().map_err(|e| e.into_error().into())
}
