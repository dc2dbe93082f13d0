//! The part as it hangs, seen from the side and from the end.

/// A frame in space for a hanging part: its heading kept, the vertical upright.
pub(super) struct Space {
    origin: [f64; 3],
    x: [f64; 3],
    y: [f64; 3],
    up: [f64; 3],
}

impl Space {
    /// From a place that becomes the origin and the vertical, both in the part's frame.
    pub(super) fn new(origin: [f64; 3], up: [f64; 3]) -> Self {
        // The part's x axis laid level; a part that hangs on its end keeps its y axis instead.
        let level = |a: [f64; 3]| {
            let along = dot(a, up);
            [0, 1, 2].map(|i| a[i] - along * up[i])
        };
        let mut x = level([1.0, 0.0, 0.0]);
        if dot(x, x) < 1e-6 {
            x = level([0.0, 0.0, -1.0]);
        }
        let long = dot(x, x).sqrt();
        let x = x.map(|c| c / long);
        let y =
            [up[1] * x[2] - up[2] * x[1], up[2] * x[0] - up[0] * x[2], up[0] * x[1] - up[1] * x[0]];
        Self { origin, x, y, up }
    }

    /// Along the part, across it, and up, m from the origin.
    pub(super) fn place(&self, p: [f64; 3]) -> [f64; 3] {
        let d = [0, 1, 2].map(|i| p[i] - self.origin[i]);
        [dot(d, self.x), dot(d, self.y), dot(d, self.up)]
    }
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// The outline of points: their convex hull, in order round.
pub(super) fn outline(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let turn = |o: (f64, f64), a: (f64, f64), b: (f64, f64)| {
        (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0)
    };
    let half = |points: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut chain: Vec<(f64, f64)> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                if turn(a, b, p) <= 0.0 {
                    chain.pop();
                } else {
                    break;
                }
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut sorted.iter().copied());
    hull.extend(half(&mut sorted.iter().rev().copied()));
    hull
}
