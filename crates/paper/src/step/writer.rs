//! Entities of a STEP file, numbered as they come.

use std::fmt::Write;

/// Collects entities; finished into a whole file.
pub(super) struct Writer {
    data: String,
    next: usize,
}

/// A name as a STEP string: quotes doubled, what is not printable ASCII as `\X2\` code units.
pub(super) fn text(name: &str) -> String {
    let mut out = String::from("'");
    for c in name.chars() {
        match c {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            ' '..='~' => out.push(c),
            c => {
                out.push_str("\\X2\\");
                for unit in c.encode_utf16(&mut [0; 2]) {
                    let _ = write!(out, "{unit:04X}");
                }
                out.push_str("\\X0\\");
            }
        }
    }
    out.push('\'');
    out
}

/// References as a list.
pub(super) fn list(of: &[usize]) -> String {
    let each: Vec<String> = of.iter().map(|n| format!("#{n}")).collect();
    format!("({})", each.join(","))
}

/// A number as STEP wants it: always with a point.
pub(super) fn number(value: f64) -> String {
    let text = format!("{:?}", value + 0.0);
    match text.split_once('e') {
        Some((digits, power)) if digits.contains('.') => format!("{digits}E{power}"),
        Some((digits, power)) => format!("{digits}.E{power}"),
        None => text,
    }
}

impl Writer {
    pub(super) fn new() -> Self {
        Self {
            data: String::new(),
            next: 1,
        }
    }

    /// Adds an entity and gives its number.
    pub(super) fn add(&mut self, entity: String) -> usize {
        let n = self.next;
        self.next += 1;
        let _ = writeln!(self.data, "#{n}={entity};");
        n
    }

    pub(super) fn point(&mut self, [x, y, z]: [f64; 3]) -> usize {
        self.add(format!(
            "CARTESIAN_POINT('',({},{},{}))",
            number(x),
            number(y),
            number(z)
        ))
    }

    pub(super) fn direction(&mut self, [x, y, z]: [f64; 3]) -> usize {
        self.add(format!(
            "DIRECTION('',({},{},{}))",
            number(x),
            number(y),
            number(z)
        ))
    }

    /// A placement: origin, axis, and the direction from which angles count.
    pub(super) fn placement(&mut self, at: [f64; 3], axis: [f64; 3], from: [f64; 3]) -> usize {
        let (at, axis, from) = (self.point(at), self.direction(axis), self.direction(from));
        self.add(format!("AXIS2_PLACEMENT_3D('',#{at},#{axis},#{from})"))
    }

    /// The whole file around the solids.
    pub(super) fn finish(mut self, name: &str, solids: &[usize], left_out: usize) -> String {
        let name = text(name);
        let millimetre = self.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))".into());
        let radian = self.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))".into());
        let steradian = self.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())".into());
        let close = self.add(format!(
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.0E-6),#{millimetre},'distance_accuracy_value','places nearer than this are one')"
        ));
        let context = self.add(format!(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{close}))GLOBAL_UNIT_ASSIGNED_CONTEXT((#{millimetre},#{radian},#{steradian}))REPRESENTATION_CONTEXT('',''))"
        ));
        let origin = self.placement([0.0; 3], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
        let mut items = vec![origin];
        items.extend(solids);
        let items = list(&items);
        let shape = self.add(format!(
            "ADVANCED_BREP_SHAPE_REPRESENTATION({name},{items},#{context})"
        ));
        let application = self.add(
            "APPLICATION_CONTEXT('core data for automotive mechanical design processes')".into(),
        );
        self.add(format!("APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{application})"));
        let product_context = self.add(format!("PRODUCT_CONTEXT('',#{application},'mechanical')"));
        let product = self.add(format!("PRODUCT({name},{name},'',(#{product_context}))"));
        let formation = self.add(format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
        let definition_context = self.add(format!(
            "PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')"
        ));
        let definition = self.add(format!(
            "PRODUCT_DEFINITION('','',#{formation},#{definition_context})"
        ));
        let definition_shape = self.add(format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));
        self.add(format!(
            "SHAPE_DEFINITION_REPRESENTATION(#{definition_shape},#{shape})"
        ));
        let described = match left_out {
            0 => "exact solids of revolution".to_owned(),
            1 => "exact solids of revolution; 1 hole, pocket or lump is not drawn".to_owned(),
            n => format!("exact solids of revolution; {n} holes, pockets or lumps are not drawn"),
        };
        format!(
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({}),'2;1');\nFILE_NAME({name},'',(''),(''),'','whirlwright','');\nFILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
            text(&described),
            self.data
        )
    }
}
