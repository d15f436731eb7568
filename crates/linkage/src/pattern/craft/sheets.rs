//! Sheets, strips cut from sheets, and rosettes of the craft.
//!
//! Start poses and links: the project's reference collection of linked patterns (`weaves.json`), where
//! each says how sure its name is.

use super::{DEGREE, Recipe};
use crate::pattern::{Cell, SizeSpec};

const MAIN: SizeSpec = SizeSpec::MAIN;

pub(super) const RECIPES: &[Recipe] = &[
    Recipe {
        name: "european_4in1_strip3",
        title: "European 4-in-1 strip, three rows",
        sizes: &[MAIN],
        rings: &[
            (0, [-1.3, 0.0, 0.0], [0.0, 0.644218, 0.764842]),
            (0, [0.0, 0.0, 0.6], [0.0, -0.644218, 0.764842]),
            (0, [1.3, 0.0, 0.0], [0.0, 0.644218, 0.764842]),
        ],
        links: &[
            (0, 1, [0, 0], -1),
            (1, 0, [1, 0], -1),
            (1, 2, [0, 0], 1),
            (1, 2, [1, 0], 1),
        ],
        cell: Cell::Screw {
            period: 1.2,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "two_row_european_6in1",
        title: "two rows of European 6-in-1 (three links per neighbouring row)",
        sizes: &[MAIN],
        rings: &[
            (0, [-0.46, 0.04, 0.0], [0.58897, -0.768656, 0.249564]),
            (0, [0.46, -0.04, -0.61], [0.606073, 0.596138, 0.526588]),
        ],
        links: &[(0, 1, [0, 0], 1), (0, 1, [1, 0], 1), (1, 0, [1, 0], 1)],
        cell: Cell::Screw {
            period: 1.0,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "european_4in1_sheet",
        title: "European 4-in-1 sheet",
        sizes: &[MAIN],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.644218, 0.0, 0.764842]),
            (0, [0.6, 1.3, 0.0], [-0.644218, 0.0, 0.764842]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (1, 0, [0, 1], -1),
            (1, 0, [1, 0], 1),
            (1, 0, [1, 1], -1),
        ],
        cell: Cell::Lattice {
            along: 1.2,
            shear: 0.0,
            across: 2.6,
        },
    },
    Recipe {
        name: "japanese_12in2",
        title: "Japanese 12-in-2 sheet",
        sizes: &[
            MAIN,
            SizeSpec {
                radius: 0.6,
                wire: 1.0,
            },
        ],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.0, 0.0, 1.0]),
            (1, [1.15, 0.05, 0.0], [-0.0, 1.0, 0.0]),
            (1, [1.15, -0.05, 0.0], [-0.0, 1.0, 0.0]),
            (1, [0.531699, 1.020929, 0.0], [-0.866025, 0.5, 0.0]),
            (1, [0.618301, 0.970929, 0.0], [-0.866025, 0.5, 0.0]),
            (1, [-0.618301, 0.970929, 0.0], [-0.866025, -0.5, 0.0]),
            (1, [-0.531699, 1.020929, 0.0], [-0.866025, -0.5, 0.0]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (0, 2, [0, 0], 1),
            (0, 3, [0, 0], 1),
            (0, 4, [0, 0], 1),
            (0, 5, [0, 0], 1),
            (0, 5, [1, -1], -1),
            (0, 6, [0, 0], 1),
            (0, 6, [1, -1], -1),
            (1, 0, [1, 0], -1),
            (2, 0, [1, 0], -1),
            (3, 0, [0, 1], -1),
            (4, 0, [0, 1], -1),
        ],
        cell: Cell::Lattice {
            along: 2.3,
            shear: 1.15,
            across: 1.991858,
        },
    },
    Recipe {
        name: "rosette_3",
        title: "three-ring rosette",
        sizes: &[MAIN],
        rings: &[
            (0, [0.4, 0.0, 0.0], [0.0, 0.434966, 0.900447]),
            (0, [-0.2, 0.34641, 0.0], [-0.376691, -0.217483, 0.900447]),
            (0, [-0.2, -0.34641, 0.0], [0.376691, -0.217483, 0.900447]),
        ],
        links: &[(0, 1, [0, 0], 1), (0, 2, [0, 0], 1), (1, 2, [0, 0], 1)],
        cell: Cell::Cluster,
    },
    // Below: described by structure, start poses and links worked out for this project.
    Recipe {
        name: "european_8in2_sheet",
        title: "European 4-in-1 sheet with every ring doubled, 8-in-2",
        sizes: &[MAIN],
        rings: &[
            (0, [0.038653, 0.0, 0.045891], [0.644218, 0.0, 0.764842]),
            (0, [-0.038653, 0.0, -0.045891], [0.644218, 0.0, 0.764842]),
            (0, [0.561347, 1.3, 0.045891], [-0.644218, 0.0, 0.764842]),
            (0, [0.638653, 1.3, -0.045891], [-0.644218, 0.0, 0.764842]),
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
            (2, 0, [0, 1], -1),
            (2, 1, [0, 1], -1),
            (3, 0, [0, 1], -1),
            (3, 1, [0, 1], -1),
            (2, 0, [1, 1], -1),
            (2, 1, [1, 1], -1),
            (3, 0, [1, 1], -1),
            (3, 1, [1, 1], -1),
        ],
        cell: Cell::Lattice {
            along: 1.2,
            shear: 0.0,
            across: 2.6,
        },
    },
    Recipe {
        name: "european_4in1_strip5",
        title: "European 4-in-1 strip, five rows",
        sizes: &[MAIN],
        rings: &[
            (0, [-2.6, 0.0, 0.0], [0.0, 0.644218, 0.764842]),
            (0, [-1.3, 0.0, 0.6], [0.0, -0.644218, 0.764842]),
            (0, [0.0, 0.0, 0.0], [0.0, 0.644218, 0.764842]),
            (0, [1.3, 0.0, 0.6], [0.0, -0.644218, 0.764842]),
            (0, [2.6, 0.0, 0.0], [0.0, 0.644218, 0.764842]),
        ],
        links: &[
            (0, 1, [0, 0], -1),
            (1, 2, [0, 0], 1),
            (2, 3, [0, 0], -1),
            (3, 4, [0, 0], 1),
            (1, 0, [1, 0], -1),
            (1, 2, [1, 0], 1),
            (3, 2, [1, 0], -1),
            (3, 4, [1, 0], 1),
        ],
        cell: Cell::Screw {
            period: 1.2,
            twist_rad: 0.0 * DEGREE,
            twist_free: false,
        },
    },
    Recipe {
        name: "european_6in1_sheet",
        title: "European 6-in-1 sheet: every ring through three of either neighbouring row",
        sizes: &[MAIN],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.5, 0.0, 0.866025]),
            (0, [0.0, 1.2, 0.0], [-0.5, 0.0, 0.866025]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (0, 1, [1, 0], 1),
            (1, 0, [1, 0], 1),
            (1, 0, [-1, 1], -1),
            (1, 0, [0, 1], -1),
            (1, 0, [1, 1], -1),
        ],
        cell: Cell::Lattice {
            along: 0.9,
            shear: 0.0,
            across: 2.4,
        },
    },
    Recipe {
        name: "square_4in1_sheet",
        title: "square sheet: large rings, one small ring across every side, 4-in-1",
        sizes: &[
            MAIN,
            SizeSpec {
                radius: 0.6,
                wire: 1.0,
            },
        ],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.0, 0.0, 1.0]),
            (1, [1.15, 0.0, 0.0], [0.0, 1.0, 0.0]),
            (1, [0.0, 1.15, 0.0], [1.0, 0.0, 0.0]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (0, 2, [0, 0], -1),
            (1, 0, [1, 0], -1),
            (2, 0, [0, 1], 1),
        ],
        cell: Cell::Lattice {
            along: 2.3,
            shear: 0.0,
            across: 2.3,
        },
    },
    Recipe {
        name: "square_8in2_sheet",
        title: "square sheet: large rings, two small rings across every side, 8-in-2",
        sizes: &[
            MAIN,
            SizeSpec {
                radius: 0.6,
                wire: 1.0,
            },
        ],
        rings: &[
            (0, [0.0, 0.0, 0.0], [0.0, 0.0, 1.0]),
            (1, [1.15, 0.06, 0.0], [0.0, 1.0, 0.0]),
            (1, [1.15, -0.06, 0.0], [0.0, 1.0, 0.0]),
            (1, [0.06, 1.15, 0.0], [1.0, 0.0, 0.0]),
            (1, [-0.06, 1.15, 0.0], [1.0, 0.0, 0.0]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (0, 2, [0, 0], 1),
            (0, 3, [0, 0], -1),
            (0, 4, [0, 0], -1),
            (1, 0, [1, 0], -1),
            (2, 0, [1, 0], -1),
            (3, 0, [0, 1], 1),
            (4, 0, [0, 1], 1),
        ],
        cell: Cell::Lattice {
            along: 2.3,
            shear: 0.0,
            across: 2.3,
        },
    },
    Recipe {
        name: "rosette_4",
        title: "four-ring rosette, every ring through the three others",
        sizes: &[MAIN],
        rings: &[
            (0, [0.5, 0.0, 0.0], [0.0, 0.642788, 0.766044]),
            (0, [0.0, 0.5, 0.0], [-0.642788, 0.0, 0.766044]),
            (0, [-0.5, 0.0, 0.0], [0.0, -0.642788, 0.766044]),
            (0, [0.0, -0.5, 0.0], [0.642788, 0.0, 0.766044]),
        ],
        links: &[
            (0, 1, [0, 0], 1),
            (0, 2, [0, 0], 1),
            (0, 3, [0, 0], 1),
            (1, 2, [0, 0], 1),
            (1, 3, [0, 0], 1),
            (2, 3, [0, 0], 1),
        ],
        cell: Cell::Cluster,
    },
];
