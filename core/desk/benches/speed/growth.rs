//! The exponent by which time grows with length.

/// Slope of the least-squares line through the logarithms: 1 is proportional, 2 is quadratic. `None` where fewer than
/// two lengths differ.
pub fn exponent(points: &[(f64, f64)]) -> Option<f64> {
    let logs: Vec<(f64, f64)> = points.iter().map(|(length, time)| (length.ln(), time.ln())).collect();
    let count = logs.len() as f64;
    let mean = |pick: fn(&(f64, f64)) -> f64| logs.iter().map(pick).sum::<f64>() / count;
    let (mean_x, mean_y) = (mean(|p| p.0), mean(|p| p.1));
    let across: f64 = logs.iter().map(|(x, _)| (x - mean_x).powi(2)).sum();
    let along: f64 = logs.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    (across > 0.0).then(|| along / across)
}
