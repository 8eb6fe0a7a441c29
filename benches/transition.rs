//! Shortest transitions: against the same search on an explicit graph, and the hardest queries.
//!
//! `cargo bench --bench transition`. The graph holds all C(22, 11) = 705,432 schedules of 11 props
//! with throws up to 22 and is built before the clock starts; petgraph finds one shortest way in
//! it, the library the first twenty in their order. The hardest queries of 12 props with throws up
//! to 20 were found by `tests/transition/hardest.rs`.

use std::sync::LazyLock;

use divan::Bencher;
use petgraph::graph::{Graph, NodeIndex};
use throwbook::hand::Hand;
use throwbook::notation::Kind;
use throwbook::patterns::Schedule;
use throwbook::transition::{Bounds, Entry, Origin, Way, ways_into};

#[global_allocator]
static ALLOCATIONS: divan::AllocProfiler = divan::AllocProfiler::system();

fn main() {
    LazyLock::force(&GRAPH);
    divan::main();
}

const HIGHEST: u32 = 22;
const PROPS: u32 = 11;

/// Every schedule as bits (beat 0 lowest), an edge for every throw.
struct Schedules {
    graph: Graph<u32, u8>,
    /// The node of each schedule, by its bits.
    nodes: Vec<NodeIndex>,
}

static GRAPH: LazyLock<Schedules> = LazyLock::new(|| {
    let all = || (0..1u32 << HIGHEST).filter(|bits| bits.count_ones() == PROPS);
    let mut graph = Graph::with_capacity(705_432, 4_600_000);
    let mut nodes = vec![NodeIndex::end(); 1 << HIGHEST];
    for bits in all() {
        nodes[bits as usize] = graph.add_node(bits);
    }
    assert_eq!(graph.node_count(), 705_432);
    for bits in all() {
        let values = if bits & 1 == 0 { 0..=0 } else { 1..=HIGHEST };
        for value in values.filter(|&value| value == 0 || bits >> value & 1 == 0) {
            let next = if value == 0 { bits } else { bits | 1 << value } >> 1;
            graph.add_edge(nodes[bits as usize], nodes[next as usize], value as u8);
        }
    }
    Schedules { graph, nodes }
});

/// Queries over those schedules: where they come from and lead to. Ground to what a 12 leaves;
/// ground to every other beat; and packed far to packed near, near to far.
const QUERIES: [(u32, u32); 4] = [
    (0x00_07ff, 0x00_0bff),
    (0x00_07ff, 0x15_5555),
    (0x3f_f800, 0x00_07ff),
    (0x00_07ff, 0x3f_f800),
];

#[divan::bench(args = [0, 1, 2, 3], sample_count = 10)]
fn petgraph_astar(bencher: Bencher<'_, '_>, query: usize) {
    let (from, to) = QUERIES[query];
    let beats = twenty(from, to).first().map(|way| way.beats);
    assert!(beats.is_some());
    let Schedules { graph, nodes } = &*GRAPH;
    let (from, to) = (nodes[from as usize], nodes[to as usize]);
    bencher.bench_local(|| {
        let way = petgraph::algo::astar(graph, from, |node| node == to, |_| 1u32, |_| 0);
        assert_eq!(way.map(|(length, _)| length), beats);
    });
}

fn schedule(kind: Kind, due: impl IntoIterator<Item = u8>) -> Schedule {
    let mut schedule = Schedule::empty();
    for (due, index) in due.into_iter().zip(0..) {
        let (hand, beat) = match kind {
            Kind::Async => (Hand::Right.after(index), index),
            Kind::Sync => (Hand::Left.after(index), index / 2 * 2),
        };
        (0..due).for_each(|_| schedule.add(hand, beat));
    }
    schedule
}

fn of_bits(bits: u32) -> Schedule {
    schedule(Kind::Async, (0..HIGHEST).map(|beat| (bits >> beat & 1) as u8))
}

fn entry(kind: Kind, schedule: Schedule) -> Entry {
    Entry { kind, schedule, uses: (0, 0), lead: None, preferred: Hand::Right }
}

fn twenty(from: u32, to: u32) -> Vec<Way> {
    let origin = Origin::Alternating { schedule: of_bits(from), next: Hand::Right, uses: (0, 0) };
    let bounds = Bounds { highest: 22, at_once: 1, beats: 60 };
    ways_into(&origin, &entry(Kind::Async, of_bits(to)), bounds, 20)
}

#[divan::bench(args = [0, 1, 2, 3])]
fn twenty_ways(bencher: Bencher<'_, '_>, query: usize) {
    let (from, to) = QUERIES[query];
    bencher.bench_local(|| twenty(from, to));
}

type Hardest = (u8, Kind, [u8; 20], Kind, [u8; 20]);

/// The hardest queries that were found: most props at once, the two notations, and what is due.
const HARDEST: [Hardest; 8] = [
    (
        1,
        Kind::Async,
        [1, 1, 0, 0, 0, 1, 1, 1, 1, 0, 1, 1, 0, 1, 0, 0, 1, 1, 0, 1],
        Kind::Sync,
        [0, 0, 0, 0, 0, 0, 1, 0, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1],
    ),
    (
        1,
        Kind::Async,
        [1, 0, 0, 1, 1, 1, 1, 0, 0, 1, 1, 1, 1, 0, 0, 1, 0, 1, 1, 0],
        Kind::Async,
        [0, 0, 0, 0, 0, 0, 1, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1],
    ),
    (
        1,
        Kind::Sync,
        [1, 0, 0, 1, 1, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 1, 1, 0, 1, 1],
        Kind::Async,
        [0, 0, 0, 0, 0, 1, 0, 1, 1, 0, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1],
    ),
    (
        1,
        Kind::Sync,
        [0, 0, 1, 0, 0, 0, 0, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 0, 1, 1],
        Kind::Sync,
        [0, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1, 0, 0, 1, 1, 0, 0, 0, 0],
    ),
    (
        2,
        Kind::Async,
        [0, 1, 0, 1, 2, 1, 1, 1, 1, 0, 0, 1, 1, 1, 0, 0, 0, 0, 0, 1],
        Kind::Async,
        [0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 0, 2, 1, 1, 2, 1, 1, 1, 1],
    ),
    (
        2,
        Kind::Async,
        [1, 0, 0, 1, 2, 1, 0, 0, 0, 0, 2, 0, 0, 1, 0, 0, 1, 2, 0, 1],
        Kind::Sync,
        [0, 1, 0, 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 1, 1, 1, 2, 0, 2],
    ),
    (
        2,
        Kind::Sync,
        [2, 1, 0, 0, 0, 2, 0, 1, 0, 0, 0, 0, 0, 2, 1, 0, 1, 0, 1, 1],
        Kind::Async,
        [0, 0, 0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 2, 1, 2, 0, 1, 1, 1],
    ),
    (
        2,
        Kind::Sync,
        [1, 1, 1, 0, 0, 0, 1, 1, 1, 1, 1, 0, 0, 1, 0, 0, 1, 1, 0, 1],
        Kind::Sync,
        [0, 0, 0, 0, 2, 0, 0, 0, 0, 0, 2, 0, 0, 2, 0, 2, 0, 2, 0, 2],
    ),
];

#[divan::bench(args = [0, 1, 2, 3, 4, 5, 6, 7], sample_count = 20)]
fn hardest_found(bencher: Bencher<'_, '_>, query: usize) {
    let (at_once, from_kind, from, to_kind, to) = HARDEST[query];
    let (from, uses) = (schedule(from_kind, from), (0, 0));
    let origin = match from_kind {
        Kind::Async => Origin::Alternating { schedule: from, next: Hand::Right, uses },
        Kind::Sync => Origin::Pairs { schedule: from, uses },
    };
    let entry = entry(to_kind, schedule(to_kind, to));
    let bounds = Bounds { highest: 20, at_once, beats: 60 };
    bencher.bench_local(|| {
        assert_eq!(ways_into(&origin, &entry, bounds, 20).len(), 20);
    });
}
