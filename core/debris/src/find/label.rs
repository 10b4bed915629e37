//! Connected components by runs: rows become runs of set pixels, runs that
//! touch (corners included) are joined by union-find.

/// A stretch of set pixels in one row: `x0` to `x1`, `x1` not included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Run {
    pub(crate) y: u32,
    pub(crate) x0: u32,
    pub(crate) x1: u32,
}

/// One component: its runs, top to bottom, and its box (right and bottom not included).
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Component {
    pub(crate) runs: Vec<Run>,
    pub(crate) area: u64,
    pub(crate) x0: u32,
    pub(crate) y0: u32,
    pub(crate) x1: u32,
    pub(crate) y1: u32,
}

/// Appends the runs of one row of a mask (set is not zero).
pub(crate) fn push_runs(y: u32, row: &[u8], runs: &mut Vec<Run>) {
    let mut x = 0;
    while x < row.len() {
        // Most of a picture is ground: skip it eight pixels at a time.
        if let Some(eight) = row[x..].first_chunk::<8>()
            && u64::from_ne_bytes(*eight) == 0
        {
            x += 8;
            continue;
        }
        if row[x] == 0 {
            x += 1;
            continue;
        }
        let x0 = x;
        while x < row.len() && row[x] != 0 {
            x += 1;
        }
        runs.push(Run {
            y,
            x0: x0 as u32,
            x1: x as u32,
        });
    }
}

/// Joins runs (ordered by row, then column) into components, in order of their first run.
pub(crate) fn components(runs: &[Run]) -> Vec<Component> {
    let mut parent: Vec<u32> = (0..runs.len() as u32).collect();
    let (mut above, mut row_start) = (0, 0);
    for i in 0..runs.len() {
        if i > 0 && runs[i].y != runs[i - 1].y {
            above = if runs[i].y == runs[i - 1].y + 1 {
                row_start
            } else {
                i
            };
            row_start = i;
        }
        // `above` walks along the row before; a run there may touch the next one here too.
        while above < row_start && runs[above].x1 < runs[i].x0 {
            above += 1;
        }
        let mut j = above;
        while j < row_start && runs[j].x0 <= runs[i].x1 {
            join(&mut parent, i as u32, j as u32);
            j += 1;
        }
    }
    let mut index = vec![u32::MAX; runs.len()];
    let mut out: Vec<Component> = Vec::new();
    for (i, run) in runs.iter().enumerate() {
        let root = find(&mut parent, i as u32) as usize;
        if index[root] == u32::MAX {
            index[root] = out.len() as u32;
            out.push(Component {
                runs: Vec::new(),
                area: 0,
                x0: run.x0,
                y0: run.y,
                x1: run.x1,
                y1: run.y + 1,
            });
        }
        let c = &mut out[index[root] as usize];
        c.runs.push(*run);
        c.area += u64::from(run.x1 - run.x0);
        c.x0 = c.x0.min(run.x0);
        c.x1 = c.x1.max(run.x1);
        c.y1 = c.y1.max(run.y + 1);
    }
    out
}

/// The components of a mask.
pub(crate) fn components_of(mask: &[u8], width: usize) -> Vec<Component> {
    let mut runs = Vec::new();
    for (y, row) in mask.chunks_exact(width).enumerate() {
        push_runs(y as u32, row, &mut runs);
    }
    components(&runs)
}

fn find(parent: &mut [u32], mut i: u32) -> u32 {
    while parent[i as usize] != i {
        let up = parent[parent[i as usize] as usize];
        parent[i as usize] = up;
        i = up;
    }
    i
}

fn join(parent: &mut [u32], a: u32, b: u32) {
    let (a, b) = (find(parent, a), find(parent, b));
    let (low, high) = if a < b { (a, b) } else { (b, a) };
    parent[high as usize] = low;
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mask(rows: &[&str]) -> (Vec<u8>, usize) {
        let bits = rows
            .iter()
            .flat_map(|r| r.bytes().map(|b| u8::from(b == b'#')))
            .collect();
        (bits, rows[0].len())
    }

    #[test]
    fn shapes_one_can_see() {
        for (rows, areas) in [
            (vec!["....", "...."], vec![]),
            (vec!["##.#", "#..#"], vec![3, 2]),
            (vec!["#.#.#", ".#.#."], vec![5]),
            (vec!["#.#", "###"], vec![5]),
            (vec!["#..#", "...."], vec![1, 1]),
            (vec!["###", "...", "###"], vec![3, 3]),
            (
                vec!["#######", "#.....#", "#.###.#", "#.#...#", "#.#####"],
                vec![23],
            ),
        ] {
            let (bits, width) = mask(&rows);
            let seen: Vec<u64> = components_of(&bits, width).iter().map(|c| c.area).collect();
            assert_eq!(seen, areas, "{rows:?}");
        }
    }

    proptest::proptest! {
        /// Same partition as flood filling each pixel's eight neighbours.
        #[test]
        fn same_as_flood_fill(width in 1usize..23, bits in proptest::collection::vec(0u8..2, 1..300)) {
            let height = bits.len() / width;
            let bits = &bits[..height * width];
            let mut areas: Vec<u64> = components_of(bits, width).iter().map(|c| c.area).collect();
            let mut seen = vec![false; bits.len()];
            let mut flood = Vec::new();
            for start in 0..bits.len() {
                if bits[start] == 0 || seen[start] { continue; }
                let (mut stack, mut area) = (vec![start], 0u64);
                seen[start] = true;
                while let Some(at) = stack.pop() {
                    area += 1;
                    let (x, y) = ((at % width) as i64, (at / width) as i64);
                    for (dx, dy) in [(-1,-1),(0,-1),(1,-1),(-1,0),(1,0),(-1,1),(0,1),(1,1)] {
                        let (nx, ny) = (x + dx, y + dy);
                        if nx < 0 || ny < 0 || nx >= width as i64 || ny >= height as i64 { continue; }
                        let to = ny as usize * width + nx as usize;
                        if bits[to] != 0 && !seen[to] { seen[to] = true; stack.push(to); }
                    }
                }
                flood.push(area);
            }
            areas.sort_unstable();
            flood.sort_unstable();
            proptest::prop_assert_eq!(areas, flood);
        }
    }
}
