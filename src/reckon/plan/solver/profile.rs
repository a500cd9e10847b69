//! How much of each resource is in use at any time.

/// Use over time, as steps: from each moment until the next.
#[derive(Debug, Clone)]
pub(super) struct Profile<'n> {
    capacities: &'n [i64],
    moments: Vec<i64>,
    /// Use of all resources from each moment on.
    used: Vec<i64>,
}

impl<'n> Profile<'n> {
    /// Nothing is in use.
    pub(super) fn new(capacities: &'n [i64]) -> Self {
        Self { capacities, moments: vec![i64::MIN], used: vec![0; capacities.len()] }
    }

    /// The earliest moment from which the needs can be met for so long.
    pub(super) fn earliest(&self, from: i64, duration: i64, needs: &[i64]) -> i64 {
        let mut start = from;
        let mut at = self.moments.partition_point(|moment| *moment <= from).saturating_sub(1);
        while at < self.moments.len() && self.moments[at] < start.saturating_add(duration) {
            if self.is_free(at, needs) {
                at += 1;
            } else {
                at += 1;
                // After the last moment nothing is in use, and the needs fit.
                start = self.moments.get(at).copied().unwrap_or(start);
            }
        }
        start
    }

    /// Holds the needs from a start for so long; they must fit.
    pub(super) fn hold(&mut self, start: i64, duration: i64, needs: &[i64]) {
        if duration <= 0 || needs.iter().all(|need| *need == 0) {
            return;
        }
        let first = self.cut(start);
        let last = self.cut(start + duration);
        let width = self.capacities.len();
        for used in self.used[first * width..last * width].chunks_mut(width) {
            for (used, need) in used.iter_mut().zip(needs) {
                *used += need;
            }
        }
    }

    fn is_free(&self, at: usize, needs: &[i64]) -> bool {
        let width = self.capacities.len();
        let used = &self.used[at * width..(at + 1) * width];
        used.iter().zip(needs).zip(self.capacities).all(|((used, need), capacity)| used + need <= *capacity)
    }

    /// Makes a step begin at this moment, and returns its place.
    fn cut(&mut self, moment: i64) -> usize {
        let at = self.moments.partition_point(|known| *known < moment);
        if self.moments.get(at) == Some(&moment) {
            return at;
        }
        let width = self.capacities.len();
        self.moments.insert(at, moment);
        let before: Vec<i64> = self.used[(at - 1) * width..at * width].to_vec();
        self.used.splice(at * width..at * width, before);
        at
    }
}
