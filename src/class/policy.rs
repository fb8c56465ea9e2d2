//! stub
#![allow(missing_docs)]
use crate::gravimetry::{Quantity, Weighings};
use crate::number::{Ratio, Reading};
use alloc::vec::Vec;
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Policy {}
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FiguresRule {
    Ignore,
    #[default]
    Remark,
    OneMark,
}
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Band {
    within: Reading,
    marks: u32,
}
impl Band {
    pub fn within(&self) -> Reading {
        self.within
    }
    pub fn marks(&self) -> u32 {
        self.marks
    }
}
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Tolerance {
    Absolute(Reading),
    Bands(Vec<Band>),
}
impl Tolerance {
    pub fn marks_of(&self, _v: &Ratio, _l: &Ratio, _h: &Ratio, _m: u32) -> Option<u32> {
        None
    }
}
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Jar {
    PercentWater(Reading),
    Weighings(Weighings),
}
impl Policy {
    pub fn marks_for(&self, _q: Quantity) -> u32 {
        1
    }
    pub fn tolerance_for(&self, _q: Quantity) -> Option<&Tolerance> {
        None
    }
    pub fn figures_rule(&self) -> FiguresRule {
        FiguresRule::Remark
    }
    pub fn accuracy_bands(&self) -> &[Band] {
        &[]
    }
    pub fn jar_content(&self) -> Option<&Jar> {
        None
    }
}
