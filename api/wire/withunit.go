package wire

import (
	"fmt"
	"slices"
	"strings"
)

// WithUnit says how to write a field that takes a text with a unit; it is empty
// for all others.
func WithUnit(field string) string {
	const write = "write it with a unit in quotes, such as "
	name := last(field)
	for _, q := range quantities {
		if slices.Contains(q.fields, name) {
			return write + q.example + strings.ReplaceAll(q.number, "*", name)
		}
	}
	switch {
	case strings.Contains(field, "permit_costs"):
		return write + `"30 min" or "2 h"`
	case strings.HasPrefix(field, "allowances."):
		return write + `"0.05 m"`
	default:
		return ""
	}
}

// quantities are the fields that take a text with a unit, with an example of it and
// how to give a number instead.
var quantities = []struct {
	fields          []string
	example, number string
}{
	{[]string{"top_speed"}, `"90 km/h" or "55 mph"`, ""},
	{[]string{"permit_cost"}, `"30 min" or "2 h"`, ""},
	{[]string{
		"mass", "rating", "tire_rating", "gross_rating", "combined_rating", "coupling_vertical_rating", "coupling_towed_rating", "empty", "give_or_take",
	}, `"24,000 lb"`, ", or use *_kg"},
	{[]string{
		"height", "width", "length", "coupling_to_rear", "coupling_to_last_axle", "front_to_coupling", "front_overhang", "rear_overhang",
		"behind_first", "tire_width", "behind_coupling", "track", "over_tires", "over_mirrors", "deck_height", "ground_clearance", "tail_clearance", "along", "across", "up", "from", "to",
		"bottom", "top", "depth", "coupling_behind_first_axle", "cab_to_coupling", "turning_radius", "altitude",
	}, `"4.15 m"`, ", or use *_m"},
	{[]string{"area", "roof_box_area"}, `"12.5 m2" or "135 sq ft"`, ", or use *_m2"},
	{[]string{"volume", "tank"}, `"120 L" or "32 US gal"`, ", or use *_l"},
	{[]string{"power"}, `"276 kW" or "370 hp"`, ", or use *_kw"},
	{[]string{"uplift_rating", "shear_rating"}, `"22.2 kN" or "5,000 lbf"`, ", or use *_kn"},
	{[]string{"wind"}, `"30 km/h" or "20 mph"`, ", or use wind_kmh"},
}

func last(field string) string { return field[strings.LastIndexByte(field, '.')+1:] }

// Short is a value as an error shows it.
func Short(v any) any {
	switch v.(type) {
	case string, float64, int, int64, bool, nil:
		if s := fmt.Sprint(v); len(s) > 100 {
			return s[:100] + "..."
		}
		return v
	default:
		return nil // an object or a list: naming the field is enough
	}
}
