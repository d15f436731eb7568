//! Whether a workshop can trust its data file.

mod bench;

mod opening;

mod damage;

mod backups;

mod restoring;

mod undoing;

mod exporting;

mod crowding;

mod killing;
