package ready_test

// examples are published examples, subject by subject.
func examples() []published {
	var all []published
	for _, list := range [][]published{
		screwExamples(), columnExamples(), beamExamples(), boltExamples(), driveExamples(), motionExamples(), strengthExamples(), otherExamples(),
	} {
		all = append(all, list...)
	}
	return all
}

func screwExamples() []published {
	twoStarts := map[string]string{"load": "6.4 kN", "mean_diameter": "30 mm", "lead": "8 mm", "friction": "0.08", "collar_friction": "0.08", "collar_diameter": "40 mm"}
	return []published{
		{
			name: "square thread, two starts", calc: "power_screw", source: shigley + "Example 8-1", mark: remembered, given: twoStarts,
			want: map[string]string{"thread_torque": "15.94 N*m", "collar_torque": "10.24 N*m", "raising_torque": "26.18 N*m", "lowering_torque": "9.77 N*m", "efficiency": "0.311"},
		},
		{
			name: "stresses of that screw", calc: "screw_body", source: shigley + "Example 8-1", mark: remembered,
			given: map[string]string{"load": "6.4 kN", "torque": "26.18 N*m", "minor_diameter": "28 mm", "mean_diameter": "30 mm", "pitch": "4 mm"},
			want:  map[string]string{"shear": "6.07 MPa", "axial": "10.39 MPa", "bearing": "12.9 MPa", "bending": "41.5 MPa", "combined": "48.7 MPa"},
		},
		{
			name: "square thread, three starts, raising", calc: "power_screw", source: "Bhandari, Design of Machine Elements, Example 6.1", mark: lookedUp, seen: notebook,
			given: map[string]string{"load": "15 kN", "mean_diameter": "46 mm", "lead": "24 mm", "friction": "0.15", "collar_friction": "0.15", "collar_diameter": "(100 mm + 65 mm) / 2"},
			want:  map[string]string{"raising_torque": "204.644 N*m", "lowering_torque": "87.402 N*m"},
		},
		{
			name: "Acme screw lifting a hatch", calc: "power_screw", source: "Mott, Machine Elements in Mechanical Design, 4th ed., Example Problem 17-1", mark: lookedUp, seen: bookPage + ", p. 703",
			given:  map[string]string{"load": "12500 lbf", "mean_diameter": "1.3429 in", "lead": "0.25 in", "friction": "0.15", "flank_angle": "14.5 deg"},
			want:   map[string]string{"lead_angle": "3.39 deg", "raising_torque": "1809 lbf*in"},
			within: 0.005, why: "the book rounds cosine and tangent to three figures",
		},
		{
			name: "drive torque from efficiency", calc: "screw_torque", source: "practice problem on an engineering examination site", mark: lookedUp, seen: "public exam-preparation page",
			given: map[string]string{"force": "20 kN", "lead": "10 mm", "efficiency": "70 %"},
			want:  map[string]string{"torque": "45.5 N*m"},
		},
		{
			name: "ideal torque for a lift", calc: "screw_torque", source: "common practice", mark: recomputed,
			given: map[string]string{"force": "314 lbf", "lead": "2 mm", "efficiency": "100 %"},
			want:  map[string]string{"torque": "0.4446 N*m"},
		},
		{
			name: "ideal lift of a lead of 2 mm", calc: "screw_lift", source: "common practice", mark: recomputed,
			given: map[string]string{"torque": "0.4446 N*m", "lead": "2 mm"},
			want:  map[string]string{"force": "314 lbf"},
		},
		{
			name: "a quarter of it from a lead of 8 mm", calc: "screw_lift", source: "common practice", mark: recomputed,
			given: map[string]string{"torque": "0.4446 N*m", "lead": "8 mm"},
			want:  map[string]string{"force": "78.5 lbf"},
		},
		{
			name: "pressure in a nut", calc: "nut_pressure", source: "hand computation", mark: recomputed,
			given: map[string]string{"load": "4 kN", "mean_diameter": "18 mm", "depth": "2 mm", "pitch": "4 mm", "nut_length": "32 mm", "allowed": "10 MPa"},
			want:  map[string]string{"turns": "8.000", "pressure": "4.421 MPa", "least_length": "14.147 mm"},
		},
	}
}

func columnExamples() []published {
	rod := map[string]string{"load": "1000 lbf", "length": "30 in", "area": "pi / 4 * (5/8 in)^2", "inertia": "pi / 64 * (5/8 in)^4", "modulus": "30e6 psi", "yield": "42 ksi"}
	return []published{
		{
			name: "round column, slender", calc: "round_column", source: shigley + "Example 4-17", mark: lookedUp, seen: bookPage,
			given: map[string]string{"load": "22 kN", "factor": "4", "length": "1.5 m", "modulus": "207 GPa", "yield": "500 MPa"},
			want:  map[string]string{"diameter": "37.48 mm"},
		},
		{
			name: "round column, stout", calc: "round_column", source: shigley + "Example 4-17", mark: remembered,
			given: map[string]string{"load": "22 kN", "factor": "4", "length": "375 mm", "modulus": "207 GPa", "yield": "500 MPa"},
			want:  map[string]string{"euler_diameter": "18.74 mm", "slenderness": "80 ", "diameter": "0.0190 m"},
		},
		{
			name: "slender round rod", calc: "column", source: "Wentzell, Machine Design, Example 3.5", mark: lookedUp, seen: notebook, given: rod,
			want: map[string]string{"slenderness": "192 ", "limit": "118.7 ", "critical_load": "2464 lbf"},
		},
		{
			name: "column braced in the middle", calc: "euler_buckling", source: "Gere, Mechanics of Materials, Example 11.1 (its proportional limit of 42 ksi counts as half the yield strength)", mark: lookedUp, seen: notebook,
			given: map[string]string{"length": "25 ft", "end_factor": "0.5", "area": "8.25 in^2", "inertia": "21.7 in^4", "modulus": "29000 ksi", "yield": "2 * 42 ksi"},
			want:  map[string]string{"critical_load": "276 kip"},
		},
		{
			name: "stout column by the parabola", calc: "johnson_buckling", source: "hand computation: half the yield strength at the limit, by its definition", mark: recomputed,
			given: map[string]string{"length": "1000 mm * sqrt(2 * pi^2 * 200 / 0.4) / 100", "area": "100 mm^2", "inertia": "10000 mm^4", "modulus": "200 GPa", "yield": "400 MPa"},
			want:  map[string]string{"critical_stress": "200.0000 MPa", "critical_load": "20.0000 kN"},
		},
		{
			name: "column loaded beside its middle", calc: "eccentric_column", source: "Gere, Mechanics of Materials, data of Example 11.4, the length in inches", mark: recomputed,
			given: map[string]string{"load": "360 kip", "offset": "1.5 in", "edge": "7.155 in", "length": "25 ft", "area": "24.1 in^2", "inertia": "24.1 in^2 * (6.05 in)^2", "modulus": "30000 ksi"},
			want:  map[string]string{"stress": "20.086 ksi", "secant": "1.1753 "},
		},
	}
}

func beamExamples() []published {
	square := map[string]string{"load": "3000 lbf", "length": "36 in", "modulus": "30e6 psi", "inertia": "4/3 in^4", "section_modulus": "4/3 in^3"}
	rows := []published{
		{
			name: "cantilever under its load", calc: "cantilever_spread_load", source: "Pytel and Kiusalaas, Mechanics of Materials, Example 6.1", mark: lookedUp, seen: notebook,
			given: map[string]string{"line_load": "400 lbf/ft", "length": "8 ft", "modulus": "29e6 psi", "inertia": "285 in^4", "section_modulus": "45.6 in^3"},
			want:  map[string]string{"deflection": "0.0428 in", "stress": "3368 psi"},
		},
		{
			name: "square bar, load in the middle", calc: "beam_centre_load", source: "Wentzell, Machine Design, Example 3.2", mark: lookedUp, seen: notebook, given: square,
			want: map[string]string{"stress": "20250 psi", "deflection": "0.0729 in"},
		},
		{
			name: "half span loaded", calc: "beam_half_spread_load", source: "Hibbeler, Mechanics of Materials, Example 12.13, the spread load's part: 24 of 56 and 53.33 of 139", mark: recomputed,
			given: map[string]string{"line_load": "2 kN/m", "length": "8 m", "modulus": "1 GPa", "inertia": "1e6 mm^4", "section_modulus": "1 mm^3"},
			want:  map[string]string{"slope_loaded": "24.000 rad", "middle": "53.333 m"},
		},
	}
	// beam_test.go bends all of them by finite elements, but for the one that a moment bends.
	return append(rows,
		published{
			name: "bent by a moment", calc: "cantilever_end_moment", source: "hand computation: l^2/2 and l", mark: recomputed,
			given: map[string]string{"moment": "1 N*mm", "length": "0.5 mm", "modulus": "1 MPa", "inertia": "1 mm^4", "section_modulus": "1 mm^3"},
			want:  map[string]string{"deflection": "0.12500 mm", "slope": "0.50000 rad", "stress": "1.0000 MPa"},
		},
	)
}

func boltExamples() []published {
	joint := map[string]string{"preload": "25 kip", "load": "6 kip", "bolt_stiffness": "6.50e6 lbf/in", "member_stiffness": "13.8e6 lbf/in", "stress_area": "0.373 in^2", "proof": "85 ksi"}
	return []published{
		{
			name: "bolted joint", calc: "bolt_joint", source: shigley + "Example 8-3", mark: lookedUp, seen: bookPage + " in a university e-book", given: joint,
			want: map[string]string{"load_share": "0.320", "preload_stress": "67.02 ksi", "bolt_stress": "72.17 ksi"},
		},
		{
			name: "its torque, short form", calc: "bolt_torque", source: shigley + "Example 8-3", mark: remembered,
			given: map[string]string{"preload": "25 kip", "diameter": "3/4 in"},
			want:  map[string]string{"torque": "3750 lbf*in"},
		},
		{
			name: "its torque, long form", calc: "bolt_tightening", source: shigley + "Example 8-3", mark: remembered,
			given: map[string]string{"preload": "25 kip", "diameter": "0.75 in", "pitch_diameter": "(0.75 in + 0.6685 in) / 2", "pitch": "1/16 in", "thread_friction": "0.15", "head_friction": "0.15", "head_diameter": "1.25 * 0.75 in"},
			want:  map[string]string{"torque": "3551 lbf*in"},
		},
		{
			name: "torque of a coarse bolt", calc: "bolt_torque", source: "Wentzell, Machine Design, Example 6.1", mark: lookedUp, seen: notebook,
			given: map[string]string{"preload": "0.85 * 85000 psi * 0.334 in^2", "diameter": "3/4 in"},
			want:  map[string]string{"torque": "3619.7 lbf*in"},
		},
		{
			name: "turn of the nut", calc: "turn_of_nut", source: "Wentzell, Machine Design, Example 6.2", mark: lookedUp, seen: notebook,
			given: map[string]string{"preload": "0.85 * 85000 psi * 0.334 in^2", "stress_area": "0.334 in^2", "clamped": "5 in", "pitch": "0.1 in", "modulus": "30e6 psi"},
			want:  map[string]string{"turn": "43.35 deg"},
		},
		{
			name: "stiffness of the parts", calc: "member_stiffness", source: shigley + "Example 8-2", mark: remembered,
			given:  map[string]string{"diameter": "0.5 in", "grip": "1.345 in", "face": "0.75 in", "modulus": "30e6 psi"},
			want:   map[string]string{"stiffness": "14.64e6 lbf/in", "fitted": "14.92e6 lbf/in"},
			within: 5e-4, why: "the book writes 0.5774 and 1.155 for the cone",
		},
		{
			name: "stiffness of the bolt", calc: "bolt_stiffness", source: shigley + "Example 8-2", mark: remembered,
			given: map[string]string{"diameter": "0.5 in", "shank": "0.25 in", "thread": "1.095 in", "stress_area": "0.1599 in^2", "modulus": "30e6 psi"},
			want:  map[string]string{"stiffness": "3.69e6 lbf/in"},
		},
		{
			name: "proof load M10 8.8", calc: "bolt_proof", source: "ISO 898-1:2013, table of proof loads", mark: lookedUp, seen: handTables,
			given: map[string]string{"stress_area": "58.0 mm^2", "proof": "580 MPa", "tensile": "800 MPa"},
			want:  map[string]string{"proof_load": "33700 N"}, within: 0.005, why: "the standard rounds its loads by up to half a per cent",
		},
		{
			name: "proof load M10 10.9", calc: "bolt_proof", source: "ISO 898-1:2013, table of proof loads", mark: lookedUp, seen: handTables,
			given: map[string]string{"stress_area": "58.0 mm^2", "proof": "830 MPa", "tensile": "1040 MPa"},
			want:  map[string]string{"proof_load": "48100 N"}, within: 0.005, why: "the standard rounds its loads by up to half a per cent",
		},
		{
			name: "stress area M8", calc: "stress_area", source: "ISO 898-1:2013, nominal stress areas", mark: lookedUp, seen: handTables,
			given: map[string]string{"diameter": "8 mm", "pitch": "1.25 mm"}, want: map[string]string{"area": "36.6 mm^2"},
		},
		{
			name: "stress area M10", calc: "stress_area", source: "ISO 898-1:2013, nominal stress areas", mark: lookedUp, seen: handTables,
			given: map[string]string{"diameter": "10 mm", "pitch": "1.5 mm"}, want: map[string]string{"area": "58.0 mm^2"},
		},
		{
			name: "stress area M20", calc: "stress_area", source: "ISO 898-1:2013, nominal stress areas", mark: remembered,
			given: map[string]string{"diameter": "20 mm", "pitch": "2.5 mm"}, want: map[string]string{"area": "245 mm^2"},
		},
		{
			name: "assembly preload M10 8.8", calc: "bolt_preload", source: "VDI 2230-1:2003, table A1", mark: remembered,
			given: map[string]string{"pitch_diameter": "9.026 mm", "minor_diameter": "8.160 mm", "pitch": "1.5 mm", "yield": "640 MPa", "head_diameter": "12.8 mm"},
			want:  map[string]string{"preload": "29.6 kN", "torque": "48 N*m"},
		},
		{
			name: "assembly preload M8 8.8", calc: "bolt_preload", source: "VDI 2230-1:2003, table A1", mark: remembered,
			given: map[string]string{"pitch_diameter": "7.188 mm", "minor_diameter": "6.466 mm", "pitch": "1.25 mm", "yield": "640 MPa", "head_diameter": "10.3 mm"},
			want:  map[string]string{"preload": "18.6 kN"},
		},
		{
			name: "preload back from the torque", calc: "bolt_preload_from_torque", source: "the inverse of the short form", mark: recomputed,
			given: map[string]string{"torque": "3750 lbf*in", "diameter": "3/4 in"}, want: map[string]string{"preload": "25.000 kip"},
		},
		{
			name: "stripping of an M8 thread", calc: "thread_stripping", source: "hand computation: pi 6.647 (0.625 + 0.541/1.732) 10/1.25", mark: recomputed,
			given: map[string]string{"diameter": "8 mm", "pitch": "1.25 mm", "engaged": "10 mm", "screw_shear": "480 MPa", "nut_shear": "120 MPa", "tension": "5 kN"},
			want:  map[string]string{"screw_area": "156.61 mm^2", "nut_area": "219.91 mm^2", "factor": "5.278 "},
		},
		{
			name: "pin in double shear", calc: "bolt_shear", source: "hand computation", mark: recomputed,
			given: map[string]string{"load": "10 kN", "planes": "2", "area": "50 mm^2", "diameter": "8 mm", "thick": "10 mm"},
			want:  map[string]string{"shear": "100.0 MPa", "bearing": "125.0 MPa"},
		},
		{
			name: "four bolts hold by friction", calc: "friction_joint", source: "hand computation", mark: recomputed,
			given: map[string]string{"load": "2 kN", "bolts": "4", "preload": "10 kN"}, want: map[string]string{"holding": "6.00 kN", "factor": "3.00 "},
		},
	}
}

func driveExamples() []published {
	return []published{
		{
			name: "open belt, length", calc: "open_belt", source: "Wentzell, Machine Design, Example 14.2", mark: lookedUp, seen: notebook,
			given: map[string]string{"large": "6 in", "small": "4 in", "centre": "19 in"}, want: map[string]string{"length": "53.75 in"},
			within: 2e-4, why: "the book writes 1.57 for half of pi",
		},
		{
			name: "open belt, centres", calc: "open_belt_centre", source: "Wentzell, Machine Design, Example 14.2", mark: lookedUp, seen: notebook,
			given: map[string]string{"large": "6 in", "small": "4 in", "length": "54 in"}, want: map[string]string{"centre": "19.12 in", "wrap_small": "174.01 deg"},
			within: 4e-5, why: "the book writes 6.28 for two pi and gets 19.124 for 19.120",
		},
		{
			name: "crossed belt", calc: "crossed_belt", source: "Khurmi and Gupta, Theory of Machines, Example 11.6", mark: lookedUp, seen: qAndA,
			given: map[string]string{"large": "450 mm", "small": "200 mm", "centre": "1.95 m"}, want: map[string]string{"length": "4.975 m", "wrap": "3.477 rad"},
			within: 2e-4, why: "the book rounds the angle to 199.2 degrees and cuts the series of the length short",
		},
		{
			name: "its power", calc: "belt_pull", source: "Khurmi and Gupta, Theory of Machines, Example 11.6", mark: lookedUp, seen: qAndA,
			given: map[string]string{"tight": "1 kN", "wrap": "3.477 rad", "friction": "0.25", "speed": "200 rpm * 225 mm"}, want: map[string]string{"power": "2.74 kW"},
		},
		{
			name: "toothed belt, equal pulleys", calc: "toothed_belt", source: "geometry: half of (75 - 20) teeth of 5.08 mm", mark: recomputed,
			given: map[string]string{"pitch": "5.08 mm", "large_teeth": "20", "small_teeth": "20", "belt_teeth": "75"}, want: map[string]string{"centre": "139.700 mm"},
		},
		{
			name: "toothed belt XL 150", calc: "toothed_belt", source: "ISO 5296, standard lengths", mark: lookedUp, seen: "public table of standard synchronous-belt lengths",
			given: map[string]string{"pitch": "5.08 mm", "large_teeth": "30", "small_teeth": "15", "belt_teeth": "75"}, want: map[string]string{"length": "15.000 in"},
		},
		{
			name: "toothed belt L 225", calc: "toothed_belt", source: "ISO 5296, standard lengths", mark: lookedUp, seen: "public table of standard synchronous-belt lengths",
			given: map[string]string{"pitch": "9.525 mm", "large_teeth": "20", "small_teeth": "15", "belt_teeth": "60"}, want: map[string]string{"length": "22.500 in"},
		},
		{
			name: "toothed belt, unequal pulleys", calc: "toothed_belt", source: "the same equation solved by bisection elsewhere", mark: recomputed,
			given: map[string]string{"pitch": "5.08 mm", "large_teeth": "30", "small_teeth": "15", "belt_teeth": "75"}, want: map[string]string{"centre": "132.796 mm"},
		},
		{
			name: "roller chain", calc: "roller_chain", source: "Khurmi and Gupta, Theory of Machines, Example 11.23", mark: lookedUp, seen: notebook,
			given: map[string]string{"pitch": "47.0755 mm", "small_teeth": "20", "large_teeth": "40", "centre": "0.8 m"}, want: map[string]string{"large": "0.6000 m"},
		},
		{
			name: "belt pushed aside", calc: "belt_tension_test", source: "hand computation", mark: recomputed,
			given: map[string]string{"span": "200 mm", "push": "8 N", "give": "2 mm"}, want: map[string]string{"tension": "200.0 N"},
		},
		{
			name: "belt plucked", calc: "belt_tone", source: "hand computation: 4 m (l f)^2", mark: recomputed,
			given: map[string]string{"span": "200 mm", "tone": "100 Hz", "line_mass": "20 g/m"}, want: map[string]string{"tension": "32.00 N"},
		},
		{
			name: "compound train", calc: "gear_train", source: "Khurmi and Gupta, Theory of Machines, Example 13.1", mark: lookedUp, seen: notebook,
			given: map[string]string{"driver": "20", "driven": "50", "driver_2": "25", "driven_2": "75", "driver_3": "26", "driven_3": "65", "speed": "975 rpm"}, want: map[string]string{"last_speed": "52 rpm"},
		},
		{
			name: "double reduction", calc: "gear_train", source: "Wentzell, Machine Design, Example 11.5", mark: lookedUp, seen: notebook,
			given: map[string]string{"driver": "12", "driven": "36", "driver_2": "16", "driven_2": "64", "speed": "1750 rpm", "torque": "54 lbf*in"},
			want:  map[string]string{"ratio": "12 ", "last_torque": "648 lbf*in", "last_speed": "145.83 rpm"},
		},
		{
			name: "pulleys with slip", calc: "pulley_train", source: "hand computation", mark: recomputed,
			given: map[string]string{"driver": "100 mm", "driven": "250 mm", "speed": "1000 rpm", "slip": "2 %"}, want: map[string]string{"last_speed": "392.0 rpm"},
		},
		{
			name: "worm reducer", calc: "worm_drive", source: "Wentzell, Machine Design, Examples 13.4 and 13.6", mark: lookedUp, seen: notebook,
			given: map[string]string{"wheel": "60", "lead_angle": "4.76 deg", "friction": "0.03", "pressure_angle": "0 deg", "speed": "1750 rpm", "torque": "180 lbf*in"},
			want:  map[string]string{"wheel_speed": "29.17 rpm", "efficiency": "0.73 "},
		},
		{
			name: "pair of gears", calc: "gear_pair", source: shigley + "gears in general: 13 teeth on a rack's length of wheel are the fewest at 1:1 for 20 deg", mark: remembered,
			given: map[string]string{"module": "2 mm", "pinion": "18", "wheel": "18", "torque": "1 N*m"}, want: map[string]string{"least_teeth": "12.3 "},
		},
		{
			name: "tooth of a gear", calc: "gear_tooth", source: shigley + "Example 14-1", mark: remembered,
			given: map[string]string{"tangential": "365 lbf", "module": "25.4 mm / 8", "face": "1.5 in", "form": "0.296", "speed": "628 ft/min", "cut_speed": "1200 ft/min"},
			want:  map[string]string{"velocity_factor": "1.52 ", "stress": "10.0 ksi"}, within: 0.005, why: "the load is printed to three figures",
		},
		{
			name: "block and tackle", calc: "pulley_block", source: "hand computation: 1000/(4 0.96^4)", mark: recomputed,
			given: map[string]string{"load": "1 kN", "ropes": "4", "sheaves": "4"}, want: map[string]string{"pull": "294.34 N"},
		},
	}
}
