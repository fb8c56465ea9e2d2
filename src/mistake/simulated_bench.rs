//! A simulated bench: its readings, and its true masses.

use alloc::vec::Vec;

use super::fault::Fault;
use crate::gravimetry::Weighings;
use crate::number::Reading;

/// A simulated bench: the readings that it wrote down, and its true masses.
#[derive(Debug, Clone, PartialEq)]
pub struct SimulatedBench {
    pub(super) container: Reading,
    pub(super) with_hydrate: Reading,
    pub(super) heated: Vec<Reading>,
    pub(super) readability: Reading,
    pub(super) fault: Option<Fault>,
    pub(super) true_container: f64,
    pub(super) true_sample: f64,
    pub(super) true_water: f64,
    pub(super) water_left: f64,
    pub(super) effect: f64,
}

impl SimulatedBench {
    /// The readings as a bench's weighings.
    #[must_use]
    pub fn weighings(&self) -> Weighings {
        Weighings::new(
            self.container,
            self.with_hydrate,
            self.heated.iter().copied(),
        )
    }

    /// The empty container, in grams.
    #[must_use]
    pub fn container(&self) -> Reading {
        self.container
    }

    /// The container with the hydrate, in grams.
    #[must_use]
    pub fn with_hydrate(&self) -> Reading {
        self.with_hydrate
    }

    /// The container after each heating, in grams, in order.
    #[must_use]
    pub fn heated(&self) -> &[Reading] {
        &self.heated
    }

    /// The readability of the balance, in grams.
    #[must_use]
    pub fn readability(&self) -> Reading {
        self.readability
    }

    /// The fault at this bench, if there is one.
    #[must_use]
    pub fn fault(&self) -> Option<Fault> {
        self.fault
    }

    /// The mass of the dry, empty container, in grams.
    #[must_use]
    pub fn true_container(&self) -> f64 {
        self.true_container
    }

    /// The mass that was put into the container, in grams, with any moisture that it held.
    #[must_use]
    pub fn true_sample(&self) -> f64 {
        self.true_sample
    }

    /// The mass of water in the sample when it was weighed, in grams. Heating without end would drive
    /// it off. It includes the scatter of the method.
    #[must_use]
    pub fn true_water(&self) -> f64 {
        self.true_water
    }

    /// The mass of that water that was left in the end, in grams, with moisture that was taken up
    /// again.
    #[must_use]
    pub fn water_left(&self) -> f64 {
        self.water_left
    }

    /// Returns by how much the fault changes the mass of the residue that the readings give, in grams and
    /// without its sign; 0 without a fault.
    #[must_use]
    pub fn effect(&self) -> f64 {
        self.effect
    }
}
