#[cfg(test)]
mod tests {
    use super::super::*;
    struct Mix(u64);
    impl Mix {
        fn next(&mut self) -> u64 { self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15); let mut z = self.0;
            z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9); z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB); z ^ (z >> 31) }
        fn below(&mut self, n: u64) -> u64 { self.next() % n }
    }
    fn naive(n: usize, edges: &[Edge], alone: i64) -> i64 {
        let mut best = vec![i64::MAX; 1 << n];
        best[0] = 0;
        for set in 1..1usize << n {
            let v = set.trailing_zeros();
            let rest = set & (set - 1);
            let mut b = best[rest] + alone;
            for e in edges {
                let m = (1usize << e.a) | (1usize << e.b);
                if e.a != e.b && (e.a == v || e.b == v) && set & m == m { b = b.min(best[set & !m] + e.cost); }
            }
            best[set] = b;
        }
        best[(1 << n) - 1]
    }
    #[test]
    fn stress() {
        let mut mix = Mix(7);
        for round in 0..100_000 {
            let n = mix.below(13) as usize;
            let m = if n == 0 { 0 } else { mix.below((n * n / 2 + 2) as u64) };
            let range = [2, 5, 20, 1000, 1_000_000][mix.below(5) as usize];
            let alone = [0, range / 4, range / 2, range, 10 * range, 1000 * range][mix.below(6) as usize] as i64;
            let edges: Vec<Edge> = (0..m).map(|_| Edge { a: mix.below(n as u64) as u32, b: mix.below(n as u64) as u32, cost: mix.below(range) as i64 }).collect();
            let got = match_sparse(n, &edges, alone);
            let want = naive(n, &edges, alone);
            assert_eq!(got.cost, want as i128, "{round} {n} {edges:?} {alone}");
            assert_eq!(got.dual_bound_times_2, 2 * want as i128, "{round} dual");
        }
    }
}
