//! The trials as the equations need them: rows with the same geometry share what depends on it.

use std::collections::HashMap;
use std::sync::Arc;

use nalgebra::DMatrix;

use super::{Layout, Names, Prior};
use crate::gate::CoilCount;
use crate::geometry::Features;
use crate::play::GATES;
use crate::trial::{Cell, CellKey, TrialRow};

/// Which rows, sites and cells belong together. A site is a cell under one axis height: all of a
/// row that depends on geometry alone.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Sites {
    /// Site of each row.
    pub site_of_row: Vec<usize>,
    /// Sites of each cell.
    pub sites_of_cell: Vec<Vec<usize>>,
    /// Cell of each site.
    pub cell_of_site: Vec<usize>,
    /// Where each cell is in the order of first appearance.
    pub cells: HashMap<CellKey, usize>,
    /// Trials of each cell.
    pub trials_of_cell: Vec<usize>,
}

/// The columns of one gate.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct GateDesign {
    pub layout: Layout,
    /// Site columns, one row per site.
    pub site_columns: Vec<f64>,
    /// The same as a matrix with one row per site, column by column.
    pub site_columns_upright: DMatrix<f64>,
    /// Circumstances' columns, one row per trial.
    pub row_columns: Vec<f64>,
    /// The same as a matrix with one row per trial, column by column.
    pub row_columns_upright: DMatrix<f64>,
    /// Counts, one per trial.
    pub counts: Vec<CoilCount>,
}

/// The trials as the equations need them.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Design {
    pub sites: Sites,
    pub gates: [GateDesign; 3],
    pub names: Names,
    /// The operator the others are compared with; nothing if the first trial does not say.
    pub reference_operator: Option<Arc<str>>,
}

/// Everything site columns depend on, to the last bit.
#[derive(PartialEq, Eq, Hash)]
struct SiteKey {
    bits: [u64; 5],
    teeth: Option<u32>,
    blade: Arc<str>,
}

impl SiteKey {
    fn of(cell: &Cell) -> SiteKey {
        let parts = cell.parts();
        let blade = parts.blade.blade;
        let lengths = [
            parts.wire.diameter(),
            parts.mandrel.diameter(),
            parts.axis.height(),
            blade.diameter(),
            blade.kerf().width(),
        ];
        SiteKey {
            bits: lengths.map(|length| length.mm().to_bits()),
            teeth: blade.teeth(),
            blade: Arc::clone(&parts.blade.name),
        }
    }
}

impl Sites {
    /// Sites and cells of the rows, and one row of each site.
    fn of(rows: &[(&TrialRow, Features)]) -> (Sites, Vec<usize>) {
        let mut sites = Sites {
            site_of_row: Vec::with_capacity(rows.len()),
            sites_of_cell: Vec::new(),
            cell_of_site: Vec::new(),
            cells: HashMap::new(),
            trials_of_cell: Vec::new(),
        };
        let mut known = HashMap::new();
        let mut row_of_site = Vec::new();
        for (i, (row, _)) in rows.iter().enumerate() {
            let site = *known.entry(SiteKey::of(row.cell())).or_insert_with(|| {
                let site = row_of_site.len();
                row_of_site.push(i);
                let next = sites.sites_of_cell.len();
                let cell = *sites.cells.entry(row.cell().key()).or_insert(next);
                if cell == next {
                    sites.sites_of_cell.push(Vec::new());
                    sites.trials_of_cell.push(0);
                }
                sites.sites_of_cell[cell].push(site);
                sites.cell_of_site.push(cell);
                site
            });
            sites.site_of_row.push(site);
            sites.trials_of_cell[sites.cell_of_site[site]] += 1;
        }
        (sites, row_of_site)
    }
}

impl Design {
    pub(crate) fn new(rows: &[(&TrialRow, Features)], prior: &Prior) -> Design {
        let (sites, row_of_site) = Sites::of(rows);
        let reference_operator =
            rows.first().and_then(|(row, _)| row.cell().parts().operator.clone());
        let mut names = Names::default();
        for parts in rows.iter().map(|(row, _)| row.cell().parts()) {
            add_name(&mut names.blades, &parts.blade.name);
            add_name(&mut names.metals, &parts.metal);
            if let Some(operator) = &parts.operator
                && Some(operator) != reference_operator.as_ref()
            {
                add_name(&mut names.operators, operator);
            }
        }
        let gates = GATES.map(|gate| {
            let layout = Layout::new(gate, &names, prior);
            let (mut site_columns, mut row_columns) = (Vec::new(), Vec::new());
            for &row in &row_of_site {
                let (row, features) = &rows[row];
                layout.push_site(row.cell(), features, &mut site_columns);
            }
            for (row, features) in rows {
                layout.push_circumstances(row.cell(), features, &mut row_columns);
            }
            let counts = rows
                .iter()
                .map(|(row, _)| row.gates()[gate.index()])
                .map(|(passed, came)| CoilCount::new(passed, came))
                .collect();
            let site_columns_upright =
                DMatrix::from_row_slice(row_of_site.len(), layout.site_terms(), &site_columns);
            let row_columns_upright = DMatrix::from_row_slice(
                rows.len(),
                layout.len() - layout.site_terms(),
                &row_columns,
            );
            GateDesign {
                layout,
                site_columns,
                site_columns_upright,
                row_columns,
                row_columns_upright,
                counts,
            }
        });
        Design { sites, gates, names, reference_operator }
    }
}

/// Adds a name that is not yet there; there are a handful.
pub(crate) fn add_name(names: &mut Vec<Arc<str>>, name: &Arc<str>) {
    if !names.contains(name) {
        names.push(Arc::clone(name));
    }
}
