package ready_test

import "maps"

func motionExamples() []published {
	twoMasses := map[string]string{
		"first_weight": "35 lbf", "second_weight": "55 lbf", "first_at": "7 in", "second_at": "20 in", "length": "31 in",
		"modulus": "30e6 psi", "inertia": "pi / 64 * 1 in^4", "gravity": "386.1 in/s^2",
	}
	return []published{
		{
			name: "power of a motor", calc: "motor_power", source: "Wentzell, Machine Design, Example 2.2", mark: lookedUp, seen: notebook,
			given: map[string]string{"torque": "300 lbf*ft", "speed": "3500 rpm"}, want: map[string]string{"power": "200 hp"},
		},
		{
			name: "torque of a motor", calc: "motor_torque", source: "Wentzell, Machine Design, Example 11.5", mark: lookedUp, seen: notebook,
			given: map[string]string{"power": "1.5 hp", "speed": "1750 rpm"}, want: map[string]string{"torque": "54 lbf*in"},
		},
		{
			name: "duty of a motor", calc: "motor_duty", source: "hand computation: root of 10/6", mark: recomputed,
			given: map[string]string{"torque_1": "2 N*m", "time_1": "1 s", "torque_2": "1 N*m", "time_2": "2 s", "torque_3": "-2 N*m", "time_3": "1 s", "rest": "2 s"},
			want:  map[string]string{"rms_torque": "1.2910 N*m", "peak": "2.000 N*m", "busy": "0.6667 "},
		},
		{
			name: "speeding up", calc: "acceleration_torque", source: "hand computation", mark: recomputed,
			given: map[string]string{"inertia": "1e-4 kg*m^2", "speed": "600 rpm", "time": "0.1 s", "load_torque": "0.05 N*m"},
			want:  map[string]string{"torque": "0.06283 N*m", "total": "0.11283 N*m"},
		},
		{
			name: "ball screw itself", calc: "cylinder_inertia", source: "a motor maker's technical reference, ball screw example", mark: remembered,
			given: map[string]string{"diameter": "15 mm", "length": "600 mm", "density": "7900 kg/m^3"}, want: map[string]string{"inertia": "0.236e-4 kg*m^2"},
		},
		{
			name: "table on a ball screw", calc: "screw_axis", source: "a motor maker's technical reference, ball screw example", mark: remembered,
			given: map[string]string{"mass": "40 kg", "lead": "15 mm", "efficiency": "90 %", "friction": "0.05", "screw_inertia": "0.236e-4 kg*m^2"},
			want:  map[string]string{"load_inertia": "2.28e-4 kg*m^2", "inertia": "2.52e-4 kg*m^2", "pull": "19.6 N"},
		},
		{
			name: "table on a belt", calc: "belt_axis", source: "hand computation: 10 kg 16 mm^2", mark: recomputed,
			given: map[string]string{"mass": "10 kg", "diameter": "32 mm", "force": "20 N", "friction": "0", "efficiency": "100 %"},
			want:  map[string]string{"load_inertia": "25.60 kg*cm^2", "torque": "0.3200 N*m"},
		},
		{
			name: "steps on a screw", calc: "screw_steps", source: "common practice", mark: recomputed,
			given: map[string]string{"microsteps": "16", "lead": "8 mm", "speed": "50 mm/s"},
			want:  map[string]string{"steps_per_length": "400.00 1/mm", "resolution": "0.00250 mm", "step_rate": "20.000 kHz"},
		},
		{
			name: "steps on a belt", calc: "belt_steps", source: "common practice", mark: recomputed,
			given: map[string]string{"microsteps": "16", "pitch": "2 mm", "teeth": "20"}, want: map[string]string{"steps_per_length": "80.000 1/mm"},
		},
		{
			name: "long move", calc: "move_time", source: "hand computation", mark: recomputed,
			given: map[string]string{"distance": "100 mm", "speed": "50 mm/s", "acceleration": "100 mm/s^2"}, want: map[string]string{"time": "2.500 s", "peak_speed": "50.00 mm/s"},
		},
		{
			name: "short move", calc: "move_time", source: "hand computation", mark: recomputed,
			given: map[string]string{"distance": "4 mm", "speed": "50 mm/s", "acceleration": "100 mm/s^2"}, want: map[string]string{"time": "0.4000 s", "peak_speed": "20.000 mm/s"},
		},
		{
			name: "two masses", calc: "shaft_two_masses", source: shigley + "Example 7-5", mark: remembered, given: twoMasses,
			want: map[string]string{"give_11": "2.061e-4 in/lbf", "give_22": "3.534e-4 in/lbf", "give_12": "2.224e-4 in/lbf", "sag_2": "0.02722 in", "rayleigh": "124.8 rad/s", "dunkerley": "120.4 rad/s"},
		},
		{
			name: "two masses and the shaft", calc: "shaft_two_masses", source: shigley + "Example 7-5", mark: remembered,
			given: with(twoMasses, "line_mass", "0.282 lb/in^3 * pi / 4 * 1 in^2"), want: map[string]string{"dunkerley": "117.3 rad/s"},
		},
		{
			name: "that shaft alone", calc: "critical_speed", source: shigley + "Example 7-5", mark: remembered,
			given: map[string]string{"length": "31 in", "modulus": "30e6 psi", "inertia": "pi / 64 * 1 in^4", "line_mass": "0.282 lb/in^3 * pi / 4 * 1 in^2"},
			want:  map[string]string{"critical": "520.4 rad/s"},
		},
		screwSpeed("supported at both ends", "9.8696", "9.7e2 rpm"),
		screwSpeed("held and supported", "15.418", "15.1e2 rpm"),
		screwSpeed("held at both ends", "22.373", "21.9e2 rpm"),
		screwSpeed("held at one end", "3.5160", "3.4e2 rpm"),
	}
}

// screwSpeed is a ball screw of 10 mm root and 1 m: makers print the factor of
// d/L^2 10^7 rpm, with four fifths of the critical speed worked in.
func screwSpeed(name, factor, allowed string) published {
	return published{
		name: "ball screw " + name, calc: "screw_speed", source: "ball screw design equations, factors 3.4 9.7 15.1 21.9", mark: lookedUp, seen: "public engineering calculator page",
		given: map[string]string{"root_diameter": "10 mm", "length": "1 m", "end_factor": factor, "lead": "5 mm"}, want: map[string]string{"allowed": allowed},
	}
}

// with is a copy of some inputs with one more.
func with(given map[string]string, name, text string) map[string]string {
	more := maps.Clone(given)
	more[name] = text
	return more
}

func strengthExamples() []published {
	music := map[string]string{
		"wire": "0.037 in", "mean_diameter": "0.400 in", "active_coils": "10.5", "dead_coils": "2", "free_length": "2.06 in", "load": "6.45 lbf",
		"shear_modulus": "11.85e6 psi", "modulus": "28.5e6 psi",
	}
	return []published{
		{
			name: "music wire spring", calc: "compression_spring", source: shigley + "Example 10-1", mark: remembered, given: music,
			want: map[string]string{"rate": "4.13 lbf/in", "index": "10.8 ", "bergstraesser": "1.124 "},
		},
		{
			name: "spring buckling", calc: "compression_spring", source: shigley + "critical deflection: 2.63 D over alpha for steel", mark: remembered,
			given: with(with(with(with(music, "end_constant", "1"), "modulus", "30e6 psi"), "shear_modulus", "11.5e6 psi"), "load", "6 lbf"), want: map[string]string{"steady_length": "1.05 in"},
		},
		{
			name: "spring of seven millimetre wire", calc: "compression_spring", source: "Bhandari, Design of Machine Elements, Example 10.1", mark: lookedUp, seen: notebook,
			given: map[string]string{"wire": "7 mm", "mean_diameter": "42 mm", "active_coils": "8", "free_length": "109.337611 mm", "load": "1250 N", "shear_modulus": "81370 MPa"},
			want:  map[string]string{"deflection": "30.337611 mm", "solid_length": "70.0 mm"},
		},
		{
			name: "one of eight springs", calc: "compression_spring", source: "Bhandari, Design of Machine Elements, Example 10.7", mark: lookedUp, seen: notebook,
			given: map[string]string{"wire": "5 mm", "mean_diameter": "40 mm", "active_coils": "5", "free_length": "57 mm", "load": "300 N", "shear_modulus": "81370 MPa"},
			want:  map[string]string{"rate": "19.865723 N/mm"},
		},
		{
			name: "extension spring", calc: "extension_spring", source: shigley + "Example 10-6", mark: remembered,
			given: map[string]string{
				"wire": "0.035 in", "mean_diameter": "0.213 in", "active_coils": "12.17 + 11.2/28.5", "initial": "1.19 lbf", "load": "5.25 lbf",
				"shear_modulus": "11.6e6 psi", "hook_radius": "0.106 in", "bend_radius": "0.089 in",
			},
			want:   map[string]string{"index": "6.086 ", "bow_factor": "1.14 ", "bend_factor": "1.18 ", "rate": "17.91 lbf/in", "bow_stress": "156.9 ksi", "bend_stress": "78.4 ksi"},
			within: 5e-3, why: "the book goes on with factors of three figures",
		},
		{
			name: "torsion spring", calc: "torsion_spring", source: "hand computation: 2^4 200000 / (10.8 20 5)", mark: recomputed,
			given: map[string]string{"wire": "2 mm", "mean_diameter": "20 mm", "body_coils": "5", "torque": "0.5 N*m"},
			want:  map[string]string{"rate": "2.9630 N*m/turn", "angle": "60.75 deg", "curvature": "1.0806 "},
		},
		{
			name: "ball bearing of a motor", calc: "bearing_life", source: shigley + "Example 11-1", mark: remembered,
			given: map[string]string{"radial": "400 lbf", "rating": "3211 lbf", "speed": "1725 rpm", "wanted_life": "5000 h"},
			want:  map[string]string{"needed_rating": "3211 lbf"},
		},
		{
			name: "life in turns", calc: "bearing_life", source: "ISO 281: five times the load lasts 125 million turns", mark: recomputed,
			given: map[string]string{"radial": "5 kN", "rating": "25 kN", "speed": "1000 rpm"}, want: map[string]string{"turns": "125.00e6 ", "life": "2083.3 h"},
		},
		{
			name: "bearing at rest", calc: "bearing_static", source: "hand computation", mark: recomputed,
			given: map[string]string{"radial": "1 kN", "axial": "2 kN", "rating": "3.2 kN"}, want: map[string]string{"equivalent": "1.600 kN", "factor": "2.000 "},
		},
		{
			name: "mean load", calc: "bearing_mean_load", source: "hand computation: cube root of (8 + 1)/2", mark: recomputed,
			given: map[string]string{"load_1": "2 kN", "turns_1": "1000", "load_2": "1 kN", "turns_2": "1000"}, want: map[string]string{"mean": "1.6510 kN"},
		},
		{
			name: "plain bearing", calc: "plain_bearing", source: "hand computation", mark: recomputed,
			given: map[string]string{"load": "400 N", "diameter": "20 mm", "length": "20 mm", "speed": "60 rpm"},
			want:  map[string]string{"pressure": "1.0000 MPa", "sliding": "0.06283 m/s", "pv": "0.06283 MPa*m/s", "heat": "2.5133 W"},
		},
		{
			name: "solid bar in torsion", calc: "shaft_torsion", source: "Gere, Mechanics of Materials, Example 3.1", mark: lookedUp, seen: notebook,
			given: map[string]string{"torque": "250 lbf*ft", "diameter": "1.5 in", "length": "54 in", "shear_modulus": "11.5e6 psi"}, want: map[string]string{"stress": "4527 psi", "twist": "1.62 deg"},
		},
		{
			name: "tube in torsion", calc: "shaft_torsion", source: "Gere, Mechanics of Materials, Example 3.6", mark: lookedUp, seen: notebook,
			given: map[string]string{"torque": "4000 N*m", "diameter": "80 mm", "bore": "60 mm", "length": "1 m", "shear_modulus": "27 GPa"}, want: map[string]string{"stress": "58205236.33 Pa"},
		},
		{
			name: "shaft with three gears", calc: "shaft_torsion", source: "Gere, Mechanics of Materials, Example 3.4", mark: lookedUp, seen: notebook,
			given: map[string]string{"torque": "175 N*m", "diameter": "30 mm", "length": "0.4 m"}, want: map[string]string{"stress": "33.0 MPa"},
		},
		{
			name: "bending and torsion", calc: "shaft_stress", source: "hand computation: 127.32 MPa times root 1.75, 63.66 MPa times root 2", mark: recomputed,
			given: map[string]string{"bending": "100 N*m", "torque": "100 N*m", "diameter": "20 mm", "yield": "300 MPa"},
			want:  map[string]string{"von_mises": "168.43 MPa", "max_shear": "90.03 MPa", "von_mises_factor": "1.7811 ", "max_shear_factor": "1.6661 "},
		},
		{
			name: "diameter for that", calc: "shaft_diameter", source: "the inverse of shaft_stress", mark: recomputed,
			given: map[string]string{"bending": "100 N*m", "torque": "100 N*m", "yield": "300 MPa", "factor": "300 / (2 * 127.323954 / sqrt(2))"}, want: map[string]string{"max_shear": "20.000 mm"},
		},
		{
			name: "shoulder of a shaft", calc: "shaft_fatigue", source: shigley + "Example 7-1", mark: remembered,
			given: map[string]string{
				"diameter": "1.1 in", "bending_swing": "1260 lbf*in", "torque_mean": "1100 lbf*in", "bending_notch": "1.58", "torsion_notch": "1.39",
				"endurance": "29.3 ksi", "tensile": "105 ksi", "yield": "82 ksi",
			},
			want: map[string]string{"goodman": "1.62 "},
		},
		{
			name: "key", calc: "key_joint", source: "hand computation", mark: recomputed,
			given: map[string]string{"torque": "50 N*m", "diameter": "20 mm", "width": "6 mm", "height": "6 mm", "length": "25 mm", "shear_allowed": "60 MPa", "bearing_allowed": "100 MPa"},
			want:  map[string]string{"shear": "33.33 MPa", "bearing": "66.67 MPa", "least_length": "16.667 mm"},
		},
		{
			name: "loose running fit 34 H11/c11", calc: "fit_limits", source: shigley + "Example 7-7", mark: remembered,
			given: map[string]string{"nominal": "34 mm", "hole_upper": "0.160 mm", "hole_lower": "0 mm", "shaft_upper": "-0.120 mm", "shaft_lower": "-0.280 mm"},
			want:  map[string]string{"largest_hole": "34.160 mm", "smallest_hole": "34.000 mm", "largest_shaft": "33.880 mm", "smallest_shaft": "33.720 mm", "most_clearance": "0.440 mm"},
		},
		{
			name: "hub on a solid shaft", calc: "press_fit", source: "closed form for one material: E delta (1 - d^2/D^2) / (2 d)", mark: recomputed,
			given: map[string]string{"diameter": "40 mm", "interference": "0.04 mm", "hub_outside": "80 mm", "length": "50 mm", "hub_modulus": "200 GPa", "shaft_modulus": "200 GPa"},
			want:  map[string]string{"pressure": "75.000 MPa", "hub_stress": "125.00 MPa", "torque": "1130.97 N*m"},
		},
		{
			name: "steel growing by a hundred kelvin", calc: "thermal_growth", source: "hand computation", mark: recomputed,
			given: map[string]string{"length": "1 m", "warming": "100 K", "expansion": "11.7e-6 1/K"}, want: map[string]string{"growth": "1.1700 mm", "held_stress": "239.85 MPa"},
		},
	}
}

func otherExamples() []published {
	unity := map[string]string{"pressure": "0.01 MPa", "radius": "100 mm", "thick": "4 mm", "modulus": "200 GPa"}
	lift := func(name, input, text, find, printed string) published {
		given := map[string]string{"mass": "10 kg", "reach": "25 cm", "height": "75 cm", "travel": "25 cm"}
		return published{
			name: "lifting, " + name, calc: "lift_by_hand", source: "NIOSH publication 94-110, tables of multipliers in centimetres", mark: remembered,
			given: with(without(given, input), input, text), want: map[string]string{find: printed},
		}
	}
	return []published{
		{
			name: "wire AWG 10", calc: "wire_gauge", source: "ASTM B258, table of diameters; copper wire tables", mark: remembered,
			given: map[string]string{"gauge": "10"}, want: map[string]string{"diameter": "2.588 mm", "area": "5.26 mm^2", "resistance": "3.277 Ohm/km"},
		},
		{
			name: "wire AWG 24", calc: "wire_gauge", source: "ASTM B258, table of diameters; copper wire tables", mark: remembered,
			given: map[string]string{"gauge": "24"}, want: map[string]string{"diameter": "0.511 mm", "area": "0.205 mm^2"},
		},
		{
			name: "cable", calc: "voltage_drop", source: "hand computation: 2 10 0.01724/1.5 10 A", mark: recomputed,
			given: map[string]string{"length": "10 m", "area": "1.5 mm^2", "current": "10 A", "voltage": "24 V"}, want: map[string]string{"drop": "2.2987 V", "heat": "22.987 W"},
		},
		{
			name: "size of a cable", calc: "wire_size", source: "hand computation", mark: recomputed,
			given: map[string]string{"length": "10 m", "current": "10 A", "voltage": "24 V"}, want: map[string]string{"area": "6.2500 mm^2"},
		},
		{
			name: "fuse", calc: "fuse", source: "hand computation: (115 1.5/150)^2", mark: recomputed,
			given: map[string]string{"load_current": "8 A", "rating": "10 A", "wire_current": "16 A", "short_current": "150 A", "area": "1.5 mm^2"},
			want:  map[string]string{"bearing_time": "1.3225 s", "load_use": "0.8000 ", "overload_use": "0.6897 "},
		},
		{
			name: "motor in still air", calc: "motor_heat", source: "hand computation: 40 K over 1 - 40 0.00393", mark: recomputed,
			given: map[string]string{"current": "2 A", "resistance": "2.5 Ohm", "thermal_resistance": "4 K/W"}, want: map[string]string{"rise": "47.461 K", "winding": "67.461 degC"},
		},
		{
			name: "box", calc: "box_heat", source: "hand computation: 1.8 0.3 0.5 + 1.4 0.06 m^2", mark: recomputed,
			given: map[string]string{"loss": "20 W", "width": "300 mm", "height": "300 mm", "depth": "200 mm"}, want: map[string]string{"surface": "0.35400 m^2", "rise": "10.272 K", "inside": "35.272 degC"},
		},
		{
			name: "warming", calc: "warming_time", source: "hand computation: one time constant is 63.2 %", mark: recomputed,
			given: map[string]string{"mass": "1 kg", "specific_heat": "480 J/(kg*K)", "loss": "10 W", "thermal_resistance": "2 K/W", "time": "960 s"}, want: map[string]string{"rise": "12.642 K"},
		},
		lift("far reach", "reach", "60 cm", "reach_factor", "0.42 "),
		lift("nearer reach", "reach", "30 cm", "reach_factor", "0.83 "),
		lift("from the floor", "height", "0 cm", "height_factor", "0.78 "),
		lift("at shoulder height", "height", "150 cm", "height_factor", "0.78 "),
		lift("over a metre", "travel", "100 cm", "travel_factor", "0.87 "),
		lift("twisted", "twist", "45 deg", "twist_factor", "0.86 "),
		lift("at its best", "twist", "0 deg", "limit", "23.0 kg"),
		{
			name: "lift by two", calc: "lift_by_two", source: "HSE guidance L23: two thirds of the sum", mark: remembered,
			given: map[string]string{"mass": "20 kg", "single_limit": "20 kg", "people": "2"}, want: map[string]string{"limit": "26.7 kg"},
		},
		{
			name: "tipping", calc: "tipping", source: "hand computation", mark: recomputed,
			given: map[string]string{"mass": "30 kg", "base": "200 mm", "centre_height": "400 mm", "force": "50 N", "force_height": "600 mm"},
			want:  map[string]string{"factor": "1.9613 ", "tipping_force": "98.07 N", "sliding_force": "88.26 N", "tilt": "26.565 deg"},
		},
		{
			name: "slope", calc: "slope", source: "hand computation", mark: recomputed,
			given: map[string]string{"mass": "10 kg", "angle": "30 deg", "friction": "0.2"}, want: map[string]string{"up": "66.019 N", "hold": "32.048 N", "slip_angle": "11.310 deg"},
		},
		{
			name: "torsion of a square bar", calc: "section_rectangle", source: "Timoshenko, Theory of Elasticity, torsion of rectangular bars", mark: remembered,
			given: map[string]string{"width": "1 mm", "height": "1 mm"}, want: map[string]string{"torsion": "0.141 mm^4"},
		},
		{
			name: "torsion of a flat bar", calc: "section_rectangle", source: "Timoshenko, Theory of Elasticity, torsion of rectangular bars", mark: remembered,
			given: map[string]string{"width": "2 mm", "height": "1 mm"}, want: map[string]string{"torsion": "0.458 mm^4", "inertia": "0.167 mm^4"},
		},
		{
			name: "round bar", calc: "section_round", source: "hand computation", mark: recomputed,
			given: map[string]string{"diameter": "20 mm"}, want: map[string]string{"area": "314.159 mm^2", "inertia": "7853.98 mm^4", "section_modulus": "785.398 mm^3", "torsion": "15707.96 mm^4"},
		},
		{
			name: "tube", calc: "section_tube", source: "hand computation", mark: recomputed,
			given: map[string]string{"outside": "20 mm", "wall": "2 mm"}, want: map[string]string{"area": "113.097 mm^2", "inertia": "4636.99 mm^4", "radius": "6.4031 mm"},
		},
		{
			name: "box", calc: "section_box", source: "hand computation", mark: recomputed,
			given: map[string]string{"width": "40 mm", "height": "60 mm", "wall": "3 mm"}, want: map[string]string{"area": "564.00 mm^2", "inertia": "273852 mm^4", "section_modulus": "9128.4 mm^3"},
		},
		{
			name: "I", calc: "section_i_beam", source: "hand computation", mark: recomputed,
			given: map[string]string{"width": "50 mm", "height": "100 mm", "flange": "8 mm", "web": "5 mm"}, want: map[string]string{"area": "1220.0 mm^2", "inertia": "1944027 mm^4"},
		},
		{
			name: "T", calc: "section_t", source: "hand computation by parallel axes", mark: recomputed,
			given: map[string]string{"width": "60 mm", "height": "60 mm", "flange": "10 mm", "web": "10 mm"}, want: map[string]string{"area": "1100.0 mm^2", "centre": "18.636 mm", "inertia": "354621 mm^4"},
		},
		{
			name: "round plate held", calc: "round_plate_held", source: "hand computation", mark: recomputed, given: unity,
			want: map[string]string{"rigidity": "1172.16 N*m", "deflection": "0.013330 mm", "edge_stress": "4.6875 MPa", "middle_stress": "3.0469 MPa"},
		},
		{
			name: "round plate resting", calc: "round_plate_resting", source: "hand computation: 5.3/1.3 times as much", mark: recomputed, given: unity,
			want: map[string]string{"deflection": "0.054346 mm", "stress": "7.7344 MPa"},
		},
		{
			name: "round plate held, load in the middle", calc: "round_plate_held_centre_load", source: "hand computation", mark: recomputed,
			given: with(with(without(unity, "pressure"), "load", "100 N"), "patch", "5 mm"), want: map[string]string{"deflection": "0.016972 mm", "edge_stress": "2.9842 MPa", "middle_stress": "11.622 MPa"},
		},
		{
			name: "round plate resting, load in the middle", calc: "round_plate_resting_centre_load", source: "hand computation", mark: recomputed,
			given: with(with(without(unity, "pressure"), "load", "100 N"), "patch", "5 mm"), want: map[string]string{"deflection": "0.043084 mm", "stress": "14.606 MPa"},
		},
		{
			name: "square plate resting", calc: "rectangular_plate_resting", source: "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, table 8", mark: remembered,
			given: plate("100 mm"), want: map[string]string{"deflection": "0.00406 m"},
		},
		{
			name: "plate half as long again, held", calc: "rectangular_plate_held", source: "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, table 35", mark: remembered,
			given: plate("150 mm"), want: map[string]string{"deflection": "0.00220 m"},
		},
	}
}

// plate is one whose load, times the fourth power of its shorter side, over its
// rigidity is a metre, so that the deflection is the table's number in metres.
func plate(long string) map[string]string {
	return map[string]string{"pressure": "10.989010989 kPa", "long": long, "short": "100 mm", "thick": "10 mm", "modulus": "12 MPa"}
}

// without is a copy of some inputs with one fewer.
func without(given map[string]string, name string) map[string]string {
	less := maps.Clone(given)
	delete(less, name)
	return less
}
