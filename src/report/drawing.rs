//! What charts draw: axes, marks, bars, points, in the units of their axes.

/// What is drawn.
#[derive(Debug, Clone, Default)]
pub enum Drawing {
    /// Nothing: a chart that went through a template without its drawing.
    #[default]
    None,
    /// Rows of marks along one horizontal axis.
    Dots {
        /// The axis.
        x: Axis,
        /// From top to bottom.
        rows: Vec<DotRow>,
    },
    /// Bars from zero along one horizontal axis.
    Bars {
        /// The axis.
        x: Axis,
        /// From top to bottom.
        rows: Vec<Bar>,
    },
    /// Values along one axis, stacked where they are nearly equal.
    Strip {
        /// The axis.
        x: Axis,
        /// In order of size.
        values: Vec<f64>,
        /// Lines across, with their words.
        lines: Vec<(f64, String)>,
        /// Marked by a triangle under the axis, where single values may be told.
        median: Option<f64>,
    },
    /// Points on two axes, with lines from the origin.
    Scatter {
        /// Across.
        x: Axis,
        /// Up.
        y: Axis,
        /// In any order.
        points: Vec<(f64, f64)>,
        /// Slope and words.
        lines: Vec<(f64, String)>,
    },
    /// One point on two axes, with named regions around a centre.
    Plane {
        /// Across.
        x: Axis,
        /// Up.
        y: Axis,
        /// The point.
        point: Point,
        /// Half the length of its error bar across.
        half_across: Option<f64>,
        /// Where the regions meet, on both axes.
        centre: f64,
        /// What lies in each direction, in words.
        regions: Vec<Region>,
        /// A curve, with the words at its end.
        curve: (Vec<(f64, f64)>, String),
    },
    /// Points joined by a line.
    Line {
        /// Across.
        x: Axis,
        /// Up.
        y: Axis,
        /// Left to right.
        points: Vec<Point>,
        /// A band from low to high with its label, such as the constant-mass limit.
        band: Option<Band>,
    },
}

/// An axis with its ticks.
#[derive(Debug, Clone)]
pub struct Axis {
    /// Quantity / unit.
    pub label: String,
    /// Lower end.
    pub from: f64,
    /// Upper end.
    pub to: f64,
    /// Position and label, within the ends.
    pub ticks: Vec<(f64, String)>,
}

/// One bar.
#[derive(Debug, Clone)]
pub struct Bar {
    /// Its source.
    pub label: String,
    /// Its length, on the x axis.
    pub length: f64,
    /// Written at its end.
    pub value: String,
}

/// A region of a plane, named in words.
#[derive(Debug, Clone)]
pub struct Region {
    /// The words.
    pub label: String,
    /// −1 for left of the centre, 0 for just above or below it, 1 for right.
    pub across: i8,
    /// 1 for above the centre, 0 for beside it, −1 for below.
    pub up: i8,
}

/// One row of a dot chart.
#[derive(Debug, Clone)]
pub struct DotRow {
    /// Substance.
    pub label: String,
    /// Marks in drawing order.
    pub marks: Vec<Mark>,
}

/// One mark.
#[derive(Debug, Clone)]
pub struct Mark {
    /// Where, on the x axis.
    pub x: f64,
    /// Half the length of its error bar.
    pub half: Option<f64>,
    /// Shape, so that the chart survives a photocopier.
    pub shape: Shape,
    /// `before`, `after, predicted`; written beside the mark.
    pub label: String,
}

/// The shape of a mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// ○
    OpenCircle,
    /// ●
    FilledCircle,
    /// ◇
    Diamond,
}

/// One point of a line chart.
#[derive(Debug, Clone)]
pub struct Point {
    /// Across.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Half the length of its error bar.
    pub half: Option<f64>,
    /// Written beside the point.
    pub label: String,
}

/// A band across a line chart.
#[derive(Debug, Clone)]
pub struct Band {
    /// Lower edge.
    pub from: f64,
    /// Upper edge.
    pub to: f64,
    /// Written at the band.
    pub label: String,
}
