//! Chains of the craft, each by a rough pose in thin wire.
//!
//! Start poses and links: the project's reference collection of linked patterns (`weaves.json`), where
//! each says how sure its name is.

use super::{DEGREE, Recipe};
use crate::pattern::{Cell, SizeSpec};

const MAIN: SizeSpec = SizeSpec::MAIN;

pub(super) const RECIPES: &[Recipe] = &[
    Recipe {
        name: "cable_1in1",
        title: "simple cable chain, 1-in-1",
        sizes: &[MAIN],
        rings: &[(0, [0.0, 0.0, 0.0], [0.0, 1.0, 0.0])],
        links: &[(0, 0, [1, 0], -1)],
        cell: Cell::Screw {
            period: 1.6,
            twist_rad: 90.0 * DEGREE,
            twist_free: true,
        },
    },
    Recipe {
        name: "double_2in2",
        title: "doubled cable chain, 2-in-2",
        sizes: &[MAIN],
        rings: &[
            (0, [0.0, 0.06, 0.0], [0.0, 1.0, 0.0]),
            (0, [0.0, -0.06, 0.0], [0.0, 1.0, 0.0]),
        ],
        links: &[
            (0, 0, [1, 0], -1),
            (0, 1, [1, 0], -1),
            (1, 0, [1, 0], -1),
            (1, 1, [1, 0], -1),
        ],
        cell: Cell::Screw {
            period: 1.6,
            twist_rad: 90.0 * DEGREE,
            twist_free: true,
        },
    },
    Recipe {
        name: "box",
        title: "box chain",
        sizes: &[MAIN],
        rings: &[
            (0, [0.0, 0.2, 0.0], [0.0, 0.995037, -0.099504]),
            (0, [0.0, -0.2, 0.0], [0.0, 0.995037, 0.099504]),
            (0, [1.202082, 0.0, 1.202082], [1.0, 0.0, -1.0]),
            (0, [-1.202082, 0.0, 1.202082], [1.0, 0.0, 1.0]),
        ],
        links: &[
            (0, 2, [0, 0], 1),
            (0, 3, [0, 0], 1),
            (1, 2, [0, 0], 1),
            (1, 3, [0, 0], 1),
            (2, 0, [1, 0], 1),
            (2, 1, [1, 0], 1),
            (3, 0, [1, 0], 1),
            (3, 1, [1, 0], 1),
        ],
        cell: Cell::Screw {
            period: 1.2,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "byzantine",
        title: "Byzantine chain",
        sizes: &[MAIN],
        rings: &[
            (0, [0.0, 0.2, 0.0], [0.0, 0.995037, -0.099504]),
            (0, [0.0, -0.2, 0.0], [0.0, 0.995037, 0.099504]),
            (0, [1.202082, 0.0, 1.202082], [1.0, 0.0, -1.0]),
            (0, [-1.202082, 0.0, 1.202082], [1.0, 0.0, 1.0]),
            (0, [0.0, 0.1, 1.2], [0.0, 0.9998, -0.019996]),
            (0, [0.0, -0.1, 1.2], [0.0, 0.9998, 0.019996]),
        ],
        links: &[
            (0, 2, [0, 0], 1),
            (0, 3, [0, 0], 1),
            (1, 2, [0, 0], 1),
            (1, 3, [0, 0], 1),
            (2, 4, [0, 0], 1),
            (2, 5, [0, 0], 1),
            (3, 4, [0, 0], 1),
            (3, 5, [0, 0], 1),
            (4, 0, [1, 0], -1),
            (4, 1, [1, 0], -1),
            (5, 0, [1, 0], -1),
            (5, 1, [1, 0], -1),
        ],
        cell: Cell::Screw {
            period: 2.8,
            twist_rad: 90.0 * DEGREE,
            twist_free: true,
        },
    },
    Recipe {
        name: "half_persian_3in1",
        title: "half Persian 3-in-1",
        sizes: &[MAIN],
        rings: &[
            (0, [-0.27, -0.45, 0.0], [0.978582, 0.159769, 0.129812]),
            (0, [0.27, 0.45, -0.14], [-0.547352, 0.756341, 0.358267]),
        ],
        links: &[(0, 1, [0, 0], 1), (0, 1, [1, 0], -1), (1, 0, [1, 0], 1)],
        cell: Cell::Screw {
            period: 1.31,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "half_persian_4in1",
        title: "half Persian 4-in-1",
        sizes: &[MAIN],
        rings: &[
            (0, [-0.02, -0.03, 0.0], [0.518731, -0.638438, 0.568609]),
            (0, [0.02, 0.03, 0.21], [-0.749775, 0.29991, 0.589823]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (0, 1, [1, 0], 1),
            (1, 0, [1, 0], -1),
            (1, 0, [2, 0], -1),
        ],
        cell: Cell::Screw {
            period: 0.79,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "full_persian_6in1",
        title: "full Persian 6-in-1",
        sizes: &[MAIN],
        rings: &[
            (0, [-0.17, -0.32, 0.0], [0.269167, 0.867315, 0.418704]),
            (0, [0.4, 0.38, 0.03], [-0.739519, -0.639584, 0.209864]),
            (0, [-0.45, 0.39, -0.5], [-0.69784, 0.707809, 0.109661]),
            (0, [0.21, -0.46, 0.03], [0.648607, -0.62865, 0.429078]),
        ],
        links: &[
            (0, 2, [0, 0], 1),
            (0, 2, [1, 0], -1),
            (0, 3, [0, 0], -1),
            (0, 3, [1, 0], 1),
            (1, 2, [0, 0], -1),
            (1, 2, [1, 0], 1),
            (1, 3, [0, 0], 1),
            (1, 3, [1, 0], -1),
            (2, 0, [1, 0], 1),
            (2, 1, [1, 0], -1),
            (3, 0, [1, 0], -1),
            (3, 1, [1, 0], 1),
        ],
        cell: Cell::Screw {
            period: 1.04,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "spiral_4in1",
        title: "spiral 4-in-1",
        sizes: &[MAIN],
        rings: &[(0, [0.6, 0.12, 0.0], [-0.99975, 0.009998, 0.019995])],
        links: &[(0, 0, [1, 0], 1), (0, 0, [2, 0], 1)],
        cell: Cell::Screw {
            period: 0.62,
            twist_rad: -48.0 * DEGREE,
            twist_free: true,
        },
    },
    Recipe {
        name: "three_stack_spiral_4in1",
        title: "three-stack spiral 4-in-1 (locked spiral; its trade name is a person's name and is left out)",
        sizes: &[MAIN],
        rings: &[(0, [-0.48, -0.53, 0.0], [0.72403, -0.683806, 0.090504])],
        links: &[(0, 0, [1, 0], 1), (0, 0, [2, 0], -1)],
        cell: Cell::Screw {
            period: 0.47,
            twist_rad: -116.0 * DEGREE,
            twist_free: true,
        },
    },
    // Below: described by structure, start poses and links worked out for this project.
    Recipe {
        name: "triple_3in3",
        title: "tripled cable chain, 3-in-3",
        sizes: &[MAIN],
        rings: &[
            (0, [0.0, -0.12, 0.0], [0.0, 1.0, 0.0]),
            (0, [0.0, 0.0, 0.0], [0.0, 1.0, 0.0]),
            (0, [0.0, 0.12, 0.0], [0.0, 1.0, 0.0]),
        ],
        links: &[
            (0, 0, [1, 0], -1),
            (0, 1, [1, 0], -1),
            (0, 2, [1, 0], -1),
            (1, 0, [1, 0], -1),
            (1, 1, [1, 0], -1),
            (1, 2, [1, 0], -1),
            (2, 0, [1, 0], -1),
            (2, 1, [1, 0], -1),
            (2, 2, [1, 0], -1),
        ],
        cell: Cell::Screw {
            period: 1.6,
            twist_rad: 90.0 * DEGREE,
            twist_free: true,
        },
    },
    Recipe {
        name: "pairs_and_singles",
        title: "pairs joined by single rings, 2-in-1",
        sizes: &[MAIN],
        rings: &[
            (0, [0.0, -0.08, 0.0], [0.0, 1.0, 0.0]),
            (0, [0.0, 0.08, 0.0], [0.0, 1.0, 0.0]),
            (0, [0.0, 0.0, 1.5], [1.0, 0.0, 0.0]),
        ],
        links: &[
            (0, 2, [0, 0], 1),
            (1, 2, [0, 0], 1),
            (2, 0, [1, 0], -1),
            (2, 1, [1, 0], -1),
        ],
        cell: Cell::Screw {
            period: 3.0,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "large_and_small",
        title: "large and small rings alternating, one by one",
        sizes: &[
            MAIN,
            SizeSpec {
                radius: 0.6,
                wire: 1.0,
            },
        ],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.0, 1.0, 0.0]),
            (1, [0.0, 0.0, 1.2], [1.0, 0.0, 0.0]),
        ],
        links: &[(0, 1, [0, 0], 1), (1, 0, [1, 0], -1)],
        cell: Cell::Screw {
            period: 2.4,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "large_and_small_pairs",
        title: "single large rings joined by pairs of small ones",
        sizes: &[
            MAIN,
            SizeSpec {
                radius: 0.6,
                wire: 1.0,
            },
        ],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.0, 1.0, 0.0]),
            (1, [0.07, 0.0, 1.2], [1.0, 0.0, 0.0]),
            (1, [-0.07, 0.0, 1.2], [1.0, 0.0, 0.0]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (0, 2, [0, 0], 1),
            (1, 0, [1, 0], -1),
            (2, 0, [1, 0], -1),
        ],
        cell: Cell::Screw {
            period: 2.4,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "graduated_cable",
        title: "cable chain with ring sizes rising and falling along it",
        sizes: &[
            MAIN,
            SizeSpec {
                radius: 0.85,
                wire: 1.0,
            },
            SizeSpec {
                radius: 0.7,
                wire: 1.0,
            },
            SizeSpec {
                radius: 0.6,
                wire: 1.0,
            },
        ],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.0, 1.0, 0.0]),
            (1, [0.0, 0.0, 1.3875], [1.0, 0.0, 0.0]),
            (2, [0.0, 0.0, 2.55], [0.0, 1.0, 0.0]),
            (3, [0.0, 0.0, 3.525], [1.0, 0.0, 0.0]),
            (2, [0.0, 0.0, 4.5], [0.0, 1.0, 0.0]),
            (1, [0.0, 0.0, 5.6625], [1.0, 0.0, 0.0]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (1, 2, [0, 0], -1),
            (2, 3, [0, 0], 1),
            (3, 4, [0, 0], -1),
            (4, 5, [0, 0], 1),
            (5, 0, [1, 0], -1),
        ],
        cell: Cell::Screw {
            period: 7.05,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
];
