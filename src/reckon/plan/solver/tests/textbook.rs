//! Critical paths from textbooks: projects without resources, whose shortest length is the longest path.

use super::check;
use crate::reckon::plan::solver::{Project, solve};

/// Length of a project of activities with what each waits for.
#[track_caller]
fn length(project: &Project, expected: u64) {
    let schedule = solve(project).expect("it can be done");
    check(project, &schedule);
    assert_eq!((schedule.makespan, schedule.bound), (expected, expected));
}

/// Activities on arrows `(from, to, duration)`: each waits for all that end where it begins.
fn on_arrows(arrows: &[(u32, u32, u64)]) -> Project {
    let mut project = Project::with(&[]);
    for (_, _, duration) in arrows {
        project.add(*duration, &[]);
    }
    for (before, (_, end, _)) in arrows.iter().enumerate() {
        for (after, _) in arrows.iter().enumerate().filter(|(_, (begin, _, _))| begin == end) {
            project.follow(before, after);
        }
    }
    project
}

/// Activities on nodes, `B4<A` for four units after A.
fn on_nodes(nodes: &str) -> Project {
    let mut project = Project::with(&[]);
    let nodes: Vec<&str> = nodes.split(' ').collect();
    for node in &nodes {
        let length = node[1..].split('<').next().and_then(|length| length.parse().ok());
        project.add(length.expect("a length"), &[]);
    }
    for (after, node) in nodes.iter().enumerate() {
        for name in node.split_once('<').map_or("", |(_, names)| names).chars() {
            let before = nodes.iter().position(|node| node.starts_with(name)).expect("it is there");
            project.follow(before, after);
        }
    }
    project
}

#[test]
fn taylors_first_network_takes_20() {
    // B. W. Taylor, "Introduction to Management Science", chapter 8, solutions: 1-3-4-5-6 is critical.
    let project = on_arrows(&[(1, 2, 7), (1, 3, 10), (2, 4, 6), (3, 4, 5), (3, 5, 4), (4, 5, 3), (5, 6, 2)]);
    length(&project, 20);
    // Earliest starts of the same table.
    assert_eq!(solve(&project).expect("it can be done").starts, [0, 0, 7, 10, 10, 15, 18]);
}

#[test]
fn taylors_second_network_takes_38() {
    // The same source: 1-3-5-7-8-9 is critical; 4-5 is a dummy of no length.
    let arrows = [
        (1, 2, 8),
        (1, 3, 10),
        (1, 4, 9),
        (2, 5, 6),
        (2, 6, 4),
        (3, 5, 5),
        (4, 5, 0),
        (4, 7, 7),
        (5, 7, 12),
        (5, 8, 15),
        (6, 9, 18),
        (7, 8, 4),
        (8, 9, 7),
    ];
    length(&on_arrows(&arrows), 38);
}

#[test]
fn a_course_example_takes_16_hours() {
    // A course hand-out on project networks: A-B-D-E-G is critical.
    length(&on_nodes("A6 B2<A C2<A D3<B F2<C E4<DF G1<E"), 16);
}

#[test]
fn reliable_construction_takes_44_weeks() {
    // F. S. Hillier and G. J. Lieberman, "Introduction to Operations Research", the Reliable Construction
    // project: A-B-C-E-F-J-L-N is critical. Length checked with networkx 3.6.1; precedences and H from memory.
    length(&on_nodes("A2 B4<A C10<B D6<C E4<C F5<E G7<D H9<EG I7<C J8<FI K4<J L5<J M2<H N6<KL"), 44);
}
