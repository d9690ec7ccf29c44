//! The critical path against textbook tables and, on a thousand random graphs, against petgraph 0.8 as a reference.

use petgraph::algo::{bellman_ford, is_cyclic_directed};
use petgraph::graph::{DiGraph, NodeIndex};
use witnessmark::plan::{CriticalPath, Graph, GraphFault, Pert, ThreePoint};

use crate::{assert_close, assert_near};

/// Steps as drawn by arrows between numbered events: an arrow follows those that end where it begins.
fn by_arrows(arrows: &[(u8, u8)]) -> Graph {
    let before = |from: u8| (0..arrows.len()).filter(|&step| arrows[step].1 == from).collect();
    Graph::new(arrows.iter().map(|&(from, _)| before(from)).collect()).expect("no circle")
}

/// Taylor, Introduction to Management Science, ch. 8, first solution table (p. 115): all seven rows.
#[test]
fn a_textbook_table_of_seven_activities() {
    let graph = by_arrows(&[(1, 2), (1, 3), (2, 4), (3, 4), (3, 5), (4, 5), (5, 6)]);
    let path = CriticalPath::new(&graph, &[7.0, 10.0, 6.0, 5.0, 4.0, 3.0, 2.0]).expect("durations");
    let rows: Vec<[f64; 5]> = path
        .times
        .iter()
        .map(|t| [t.earliest_start, t.earliest_finish, t.latest_start, t.latest_finish, t.total_float])
        .collect();
    assert_eq!(
        rows,
        [
            [0.0, 7.0, 2.0, 9.0, 2.0],
            [0.0, 10.0, 0.0, 10.0, 0.0],
            [7.0, 13.0, 9.0, 15.0, 2.0],
            [10.0, 15.0, 10.0, 15.0, 0.0],
            [10.0, 14.0, 14.0, 18.0, 4.0],
            [15.0, 18.0, 15.0, 18.0, 0.0],
            [18.0, 20.0, 18.0, 20.0, 0.0],
        ]
    );
    assert_eq!((path.length, &path.critical[..]), (20.0, &[1, 3, 5, 6][..]), "1-3-4-5-6");
    let free: Vec<f64> = path.times.iter().map(|t| t.free_float).collect();
    assert_eq!(free, [0.0, 0.0, 2.0, 0.0, 4.0, 0.0, 0.0], "independent computation: ES of the next less EF");
}

fn three(least: f64, likely: f64, most: f64) -> ThreePoint {
    ThreePoint::new(least, likely, most).expect("three figures")
}

/// A textbook problem of fourteen activities, partly as solved by its source, the rest computed independently.
#[test]
fn pert_of_fourteen_activities() {
    let steps = [
        (three(5.0, 5.0, 7.0), ""),
        (three(1.0, 2.0, 5.0), ""),
        (three(5.0, 5.0, 5.0), "A"),
        (three(4.0, 8.0, 13.0), "A"),
        (three(1.0, 10.0, 17.0), "BC"),
        (three(1.0, 5.0, 7.0), "D"),
        (three(2.0, 6.0, 9.0), "D"),
        (three(4.0, 4.0, 6.0), "EF"),
        (three(2.0, 7.0, 10.0), "GH"),
        (three(2.0, 4.0, 7.0), "I"),
        (three(6.0, 10.0, 13.0), "I"),
        (three(2.0, 6.0, 6.0), "J"),
        (three(2.0, 2.0, 3.0), "K"),
        (three(7.0, 7.0, 12.0), "LM"),
    ];
    let after = |letters: &str| letters.bytes().map(|letter| usize::from(letter - b'A')).collect();
    let graph = Graph::new(steps.iter().map(|(_, letters)| after(letters)).collect()).expect("no circle");
    let pert = Pert::new(&graph, &steps.map(|(expected, _)| expected)).expect("durations");
    assert_near(pert.path.length, 50.833333, 1e-4);
    let critical: String = pert.path.critical.iter().map(|&step| char::from(b"ABCDEFGHIJKLMN"[step])).collect();
    assert_eq!(critical, "ACEHIKMN");
    assert_near(pert.variance, 11.194444, 1e-4);
    assert_near(pert.variance.sqrt(), 3.34581, 1e-4);
    assert_near(pert.chance_within(55.0), 0.89349636, 1e-4);
    let d = pert.path.times[3];
    assert_near(d.earliest_start, 5.3333333, 1e-4);
    assert_near(d.earliest_finish, 13.5, 1e-4);
    assert_near(d.latest_start, 7.1666667, 1e-4);
    assert_near(d.latest_finish, 15.333333, 1e-4);
    assert_near(d.total_float, 1.8333333, 1e-4);
}

/// Independent computation.
#[test]
fn mean_and_variance_of_three_figures() {
    let parts = three(10.0, 15.0, 40.0);
    assert_near(parts.triangular_mean(), 21.666667, 1e-4);
    assert_near(parts.triangular_variance(), 43.055556, 1e-4);
    assert_near(parts.mean(), 18.333333, 1e-4);
    assert_near(parts.variance(), 25.0, 1e-4);
    assert_near(parts.beta_variance(), 25.793651, 1e-4);
}

/// Two critical ways of the same length: the one that varies more counts. Without any variance a date holds or not.
#[test]
fn of_two_critical_ways_the_wider_counts() {
    let graph = Graph::new(vec![vec![], vec![0], vec![0], vec![1, 2]]).expect("no circle");
    let fixed = three(3.0, 3.0, 3.0);
    let pert = Pert::new(&graph, &[fixed, three(3.0, 6.0, 9.0), three(0.0, 6.0, 12.0), fixed]).expect("durations");
    assert_eq!(pert.path.critical, [0, 1, 2, 3]);
    assert_close(pert.variance, 4.0, 1e-12);
    let sure = Pert::new(&graph, &[fixed; 4]).expect("durations");
    assert_eq!((sure.chance_within(8.9), sure.chance_within(9.0)), (0.0, 1.0));
}

/// Even whole numbers from a fixed seed (the multiplier is Knuth's for 64 bits; the high bits are used).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: u64) -> usize {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        usize::try_from((self.0 >> 33) % end).expect("a small number")
    }
}

/// The steps before each step; backward ones only where circles are asked for.
fn any_steps(numbers: &mut Numbers, circles: bool) -> Vec<Vec<usize>> {
    let count = 2 + numbers.below(29);
    let mut after = vec![Vec::new(); count];
    // Names are shuffled, so that the order of entry says nothing.
    let mut names: Vec<usize> = (0..count).collect();
    for index in (1..count).rev() {
        names.swap(index, numbers.below(index as u64 + 1));
    }
    for step in 1..count {
        for _ in 0..numbers.below(4) {
            after[names[step]].push(names[numbers.below(step as u64)]);
        }
    }
    if circles && numbers.below(2) == 0 {
        after[numbers.below(count as u64)].push(numbers.below(count as u64));
    }
    after
}

/// Longest ways by Bellman–Ford over negated durations: a source before all steps, an arrow for each "follows".
fn reference(after: &[Vec<usize>], durations: &[f64]) -> Vec<f64> {
    let mut graph = DiGraph::<(), f64>::new();
    let source = graph.add_node(());
    let begins: Vec<NodeIndex> = durations.iter().map(|_| graph.add_node(())).collect();
    let ends: Vec<NodeIndex> = durations.iter().map(|_| graph.add_node(())).collect();
    for (step, before) in after.iter().enumerate() {
        graph.add_edge(source, begins[step], 0.0);
        graph.add_edge(begins[step], ends[step], -durations[step]);
        for &one in before {
            graph.add_edge(ends[one], begins[step], 0.0);
        }
    }
    let paths = bellman_ford(&graph, source).expect("no circle");
    ends.iter().map(|end| -paths.distances[end.index()]).collect()
}

#[test]
fn a_thousand_random_graphs_as_petgraph_has_them() {
    let mut numbers = Numbers(20260302);
    for _ in 0..1000 {
        let after = any_steps(&mut numbers, false);
        let durations: Vec<f64> = after.iter().map(|_| numbers.below(400) as f64 / 8.0).collect();
        let graph = Graph::new(after.clone()).expect("no circle");
        let path = CriticalPath::new(&graph, &durations).expect("durations");
        let expected = reference(&after, &durations);
        let found: Vec<f64> = path.times.iter().map(|t| t.earliest_finish).collect();
        let length = expected.iter().copied().fold(0.0, f64::max);
        assert_eq!((found, path.length), (expected, length));
        // Backwards it is the same question of the graph turned round.
        let turned: Vec<Vec<usize>> = (0..after.len()).map(|step| graph.followers(step).to_vec()).collect();
        let left = reference(&turned, &durations);
        assert_eq!(graph.to_the_end(&durations), left);
        let latest: Vec<f64> = path.times.iter().map(|t| t.latest_start).collect();
        assert_eq!(latest, left.iter().map(|left| length - left).collect::<Vec<_>>());
    }
}

#[test]
fn a_circle_is_found_where_petgraph_finds_one() {
    let mut numbers = Numbers(7);
    let mut circles = 0;
    for _ in 0..1000 {
        let after = any_steps(&mut numbers, true);
        let mut reference = DiGraph::<(), ()>::new();
        let nodes: Vec<NodeIndex> = after.iter().map(|_| reference.add_node(())).collect();
        for (step, before) in after.iter().enumerate() {
            for &one in before {
                reference.add_edge(nodes[one], nodes[step], ());
            }
        }
        match Graph::new(after.clone()) {
            Ok(_) => assert!(!is_cyclic_directed(&reference)),
            Err(GraphFault::Cycle { steps }) => {
                circles += 1;
                assert!(is_cyclic_directed(&reference));
                let next = steps.iter().cycle().skip(1);
                assert!(steps.iter().zip(next).all(|(one, next)| after[*next].contains(one)), "{steps:?}");
            }
            Err(fault) => panic!("{fault}"),
        }
    }
    assert!((100..900).contains(&circles), "{circles}: both kinds must come up");
}
