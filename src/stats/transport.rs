/// What stays below this is rounding, not an amount.
const NOTHING: f64 = 1e-12;

/// The exact least-cost way to move `supply` onto `demand`, both summing to the same amount: (from, to, amount), amounts > 0.
///
/// Successive shortest paths (Ahuja, Magnanti & Orlin 1993, *Network Flows*, section 9.7), the paths by Bellman and Ford. Meant
/// for palettes: a few dozen places on each side. `cost(from, to)` is the cost of one unit, 0 or more.
pub fn transport(
    supply: &[f64],
    demand: &[f64],
    cost: impl Fn(usize, usize) -> f64,
) -> Vec<(usize, usize, f64)> {
    let costs = (0..supply.len())
        .map(|i| (0..demand.len()).map(|j| cost(i, j)).collect())
        .collect();
    let mut plan = Plan {
        supply: supply.to_vec(),
        demand: demand.to_vec(),
        moved: vec![vec![0.0; demand.len()]; supply.len()],
        costs,
    };
    while let Some(path) = plan.cheapest_path() {
        plan.send(&path);
    }
    let mut moves = Vec::new();
    for (i, row) in plan.moved.iter().enumerate() {
        for (j, &amount) in row.iter().enumerate() {
            if amount > NOTHING {
                moves.push((i, j, amount));
            }
        }
    }
    moves
}

struct Plan {
    /// What is still to be moved.
    supply: Vec<f64>,
    /// What is still wanted.
    demand: Vec<f64>,
    moved: Vec<Vec<f64>>,
    costs: Vec<Vec<f64>>,
}

/// From a source to a sink and back over what was moved before: source, sink, source, …, sink.
type Path = Vec<usize>;

impl Plan {
    /// The cheapest way from what is left to what is wanted; `None` when all is moved.
    fn cheapest_path(&self) -> Option<Path> {
        let (mut at_source, mut at_sink) = (
            vec![f64::INFINITY; self.supply.len()],
            vec![f64::INFINITY; self.demand.len()],
        );
        let (mut before_source, mut before_sink) =
            (vec![None; self.supply.len()], vec![0; self.demand.len()]);
        for (distance, left) in at_source.iter_mut().zip(&self.supply) {
            if *left > NOTHING {
                *distance = 0.0;
            }
        }
        for _ in 0..=self.supply.len() + self.demand.len() {
            let mut better = false;
            for i in 0..self.supply.len() {
                for j in 0..self.demand.len() {
                    let there = at_source[i] + self.costs[i][j];
                    if there < at_sink[j] - NOTHING {
                        (at_sink[j], before_sink[j], better) = (there, i, true);
                    }
                    let back = at_sink[j] - self.costs[i][j];
                    if self.moved[i][j] > NOTHING && back < at_source[i] - NOTHING {
                        (at_source[i], before_source[i], better) = (back, Some(j), true);
                    }
                }
            }
            if !better {
                break;
            }
        }
        let end = (0..self.demand.len())
            .filter(|&j| self.demand[j] > NOTHING && at_sink[j].is_finite())
            .min_by(|&a, &b| at_sink[a].total_cmp(&at_sink[b]))?;
        let mut path = vec![end];
        let mut source = before_sink[end];
        path.push(source);
        while let Some(sink) = before_source[source] {
            source = before_sink[sink];
            path.extend([sink, source]);
        }
        path.reverse();
        Some(path)
    }

    /// Moves as much along the path as it holds.
    fn send(&mut self, path: &[usize]) {
        let (start, end) = (path[0], path[path.len() - 1]);
        let mut amount = self.supply[start].min(self.demand[end]);
        for back in path[1..].windows(2).step_by(2) {
            amount = amount.min(self.moved[back[1]][back[0]]);
        }
        for (step, ends) in path.windows(2).enumerate() {
            if step % 2 == 0 {
                self.moved[ends[0]][ends[1]] += amount;
            } else {
                self.moved[ends[1]][ends[0]] -= amount;
            }
        }
        self.supply[start] -= amount;
        self.demand[end] -= amount;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn total(moves: &[(usize, usize, f64)], costs: &[Vec<f64>]) -> f64 {
        moves.iter().map(|&(i, j, a)| a * costs[i][j]).sum()
    }

    /// A made problem, 12 places onto 16, from a linear congruential generator (modulus 2^31, 1103515245, 12345; seed 7);
    /// least cost 3.931963024689163 by scipy 1.17.1 `optimize.linprog(method="highs")`.
    #[test]
    fn least_cost_as_by_linear_programming() {
        let mut state: u64 = 7;
        let mut next = || {
            state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
            state as f64 / 2_147_483_648.0
        };
        let mut places = |n: usize| {
            let raw: Vec<f64> = (0..n).map(|_| next()).collect();
            let sum: f64 = raw.iter().sum();
            raw.iter().map(|x| x / sum).collect::<Vec<_>>()
        };
        let (supply, demand) = (places(12), places(16));
        let costs: Vec<Vec<f64>> = (0..12)
            .map(|_| (0..16).map(|_| 30.0 * next()).collect())
            .collect();
        let moves = transport(&supply, &demand, |i, j| costs[i][j]);
        let found = total(&moves, &costs);
        assert!((found - 3.931963024689163).abs() < 1e-9, "{found}");
    }

    proptest! {
        /// All is moved, and no cyclic exchange of two moves is cheaper.
        #[test]
        fn all_is_moved_and_no_swap_is_cheaper(
            a in prop::collection::vec(0.01..1.0f64, 1..9),
            b in prop::collection::vec(0.01..1.0f64, 1..9),
            spread in 0.1..50.0f64,
        ) {
            let (sa, sb): (f64, f64) = (a.iter().sum(), b.iter().sum());
            let supply: Vec<f64> = a.iter().map(|x| x / sa).collect();
            let demand: Vec<f64> = b.iter().map(|x| x / sb).collect();
            let cost = |i: usize, j: usize| ((supply[i] * 7.0 - demand[j] * 5.0) * spread).abs();
            let moves = transport(&supply, &demand, cost);
            for (i, wanted) in supply.iter().enumerate() {
                let found: f64 = moves.iter().filter(|m| m.0 == i).map(|m| m.2).sum();
                prop_assert!((found - wanted).abs() < 1e-9);
            }
            for &(i, j, _) in &moves {
                for &(k, l, _) in &moves {
                    prop_assert!(cost(i, j) + cost(k, l) <= cost(i, l) + cost(k, j) + 1e-9);
                }
            }
        }
    }
}
