package osm

import (
	"slices"
	"strings"

	"github.com/paulmach/osm"

	"wayhouse/regs/measure"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// Malformed is a value that is no plausible figure, or a tag that is not
// understood.
type Malformed struct {
	Type   string `json:"type"` // node, way or relation
	ID     int64  `json:"id"`
	Key    string `json:"key"`
	Value  string `json:"value"`
	Likely string `json:"likely,omitempty"`
	Taken  string `json:"taken,omitempty"` // it was read, in one of several ways
}

// modeOf are the access keys that bind a rig (OpenStreetMap wiki, Key:access,
// 2025).
var modeOf = map[string]network.Mode{
	"access": network.Everyone, "vehicle": network.Vehicles, "motor_vehicle": network.MotorVehicles,
	"motorcar": network.Motorcars, "goods": network.GoodsVehicles, "hgv": network.HeavyGoods,
	"hgv_articulated": network.Articulated, "trailer": network.Trailers,
	"caravan": network.Caravans, "hazmat": network.Hazmat,
}

// wordOf are the values of access keys. What is not listed is not understood.
var wordOf = map[string]network.Word{
	"yes": network.Allowed, "designated": network.Allowed, "permissive": network.Allowed,
	"official": network.Allowed, "public": network.Allowed, "discouraged": network.Discouraged,
	"destination": network.Destination, "customers": network.Destination, "delivery": network.Destination,
	"local": network.Destination, "private": network.Permission, "permit": network.Permission,
	"residents": network.Permission, "restricted": network.Permission, "no": network.Refused,
	"agricultural": network.Refused, "forestry": network.Refused, "agricultural;forestry": network.Refused,
	"military": network.Refused, "emergency": network.Refused,
	"use_sidepath": network.Refused, "dismount": network.Refused,
}

// subjectOf are the keys of figures.
var subjectOf = map[string]network.Subject{
	"maxheight": network.MaxHeight, "maxwidth": network.MaxWidth, "maxlength": network.MaxLength,
	"maxweight": network.MaxMass, "maxweightrating": network.MaxRating, "maxaxleload": network.MaxAxleMass,
}

// otherLimits are keys that limit what is not measured here; a sign of each is
// shown as one that could not be read.
var otherLimits = map[string]network.Subject{
	"maxgcweight": network.MaxMass, "maxgcweightrating": network.MaxRating,
	"maxunladenweight": network.MaxMass, "maxbogieweight": network.MaxAxleMass,
	"maxaxles": network.MaxAxleMass, "maxtrailers": network.MaxLength, "maxtrailerlength": network.MaxLength,
}

// doubts are keys whose presence makes it uncertain whether a road is open.
var doubts = []string{"opening_hours", "ice_road", "winter_road", "abandoned", "disused", "impassable",
	"seasonal", "construction"}

// idle are suffixes that say something about a tag, not about the road.
var idle = []string{"source", "note", "signed", "type", "date", "description", "ref", "check_date", "fixme",
	"wikidata", "operator", "website", "national_network", "state_network", "local_network", "network",
	"designation", "name", "url", "state_route"}

// signs reads every access tag and every figure. Lists by lane and suffixes
// that are not understood make an unreadable sign, so that they are shown.
func signs(tags osm.Tags, text func(string) network.StringID, note func(Malformed)) []network.Sign {
	var out []network.Sign
	for _, t := range tags {
		parts := strings.Split(t.Key, ":")
		var s network.Sign
		mode, isAccess := modeOf[parts[0]]
		subject, isFigure := subjectOf[parts[0]]
		_, isOther := otherLimits[parts[0]]
		switch {
		case isOther:
			s.Subject, s.Text = otherLimits[parts[0]], text(t.Key+"="+t.Value)
			note(Malformed{Key: t.Key, Value: t.Value})
			out = append(out, unread(s))
			continue
		case slices.Contains(doubts, t.Key) && t.Value != "no":
			s.Text = text(t.Key + "=" + t.Value)
			note(Malformed{Key: t.Key, Value: t.Value})
			out = append(out, unread(s))
			continue
		case !isAccess && modeOf[strings.ToLower(parts[0])] != 0 || parts[0] == "Access" || parts[0] == "towing":
			s.Text = text(t.Key + "=" + t.Value)
			note(Malformed{Key: t.Key, Value: t.Value})
			out = append(out, unread(s))
			continue
		case !isFigure && misspelt(parts[0]) != 0:
			s.Subject, s.Text = misspelt(parts[0]), text(t.Key+"="+t.Value)
			note(Malformed{Key: t.Key, Value: t.Value})
			out = append(out, unread(s))
			continue
		case isAccess:
			s.For = mode
		case isFigure:
			s.Subject = subject
		default:
			continue
		}
		conditional, understood, about := qualify(&s, parts[1:])
		if last := parts[len(parts)-1]; about && isFigure && (last == "note" || last == "description") {
			understood, about = false, false // it may say what the figure does not
		}
		if about {
			continue
		}
		s.Text = text(t.Value)
		if !understood || isAccess && len(parts) > 1 && s.For != mode {
			note(Malformed{Key: t.Key, Value: t.Value})
			out = append(out, unread(s))
			continue
		}
		if conditional {
			out = append(out, conditionals(s, t, text, note)...)
			continue
		}
		out = append(out, fill(s, t.Key, t.Value, note))
	}
	slices.SortStableFunc(out, func(a, b network.Sign) int { // so that records alike are alike
		return int(a.Subject)<<8 + int(a.For) - int(b.Subject)<<8 - int(b.For)
	})
	return out
}

// misspelt returns the subject that a key means but for its spelling, such as
// max_height; 0 where it means none.
func misspelt(key string) network.Subject {
	return subjectOf[strings.ReplaceAll(strings.ToLower(key), "_", "")]
}

// qualify reads the suffixes of a key. about tells that the tag is about
// another tag.
func qualify(s *network.Sign, suffixes []string) (conditional, understood, about bool) {
	for i, part := range suffixes {
		mode, isMode := modeOf[part]
		switch {
		case slices.Contains(idle, part):
			return false, true, true
		case part == "conditional" && i == len(suffixes)-1:
			conditional = true
		case part == "forward":
			s.Bound = network.Along
		case part == "backward":
			s.Bound = network.Against
		case part == "both_ways":
		case part == "physical" && s.Subject == network.MaxHeight:
			s.Subject = network.MaxHeightPhysical
		case part == "legal" && s.Subject == network.MaxHeight:
			s.Subject = network.MaxHeightLegal
		case part == "physical" && s.Subject == network.MaxWidth:
			s.Subject = network.MaxWidthPhysical
		case isMode && s.Subject != network.Access:
			s.For = mode
		case isAnother(part):
			return false, true, true
		default:
			return false, false, false
		}
	}
	return conditional, true, false
}

// isAnother reports whether a suffix names traffic that a rig is not.
func isAnother(part string) bool {
	return slices.Contains([]string{
		"bus", "psv", "coach", "tourist_bus", "bicycle", "foot", "horse", "motorcycle", "moped", "mofa", "taxi",
		"emergency", "agricultural",
		"forestry", "motorhome", "share_taxi", "minibus", "snowmobile", "atv", "ski", "boat",
	}, part)
}

func unread(s network.Sign) network.Sign {
	if s.Subject == network.Access {
		s.Word = network.Unread
	} else {
		s.State = network.Unreadable
	}
	return s
}

// conditionals reads "value @ condition; ..." into a sign each.
func conditionals(s network.Sign, t osm.Tag, text func(string) network.StringID, note func(Malformed)) []network.Sign {
	parts, err := window.ParseConditional(t.Value)
	if err != nil {
		note(Malformed{Key: t.Key, Value: t.Value})
		s.When = text(t.Value) // it is bound to something that is not understood
		return []network.Sign{unread(s)}
	}
	var out []network.Sign
	for _, c := range parts {
		one := s
		one.Text, one.When = text(c.Value), text(c.When)
		out = append(out, fill(one, t.Key, c.Value, note))
	}
	return out
}

// fill reads the value of a sign.
func fill(s network.Sign, key, value string, note func(Malformed)) network.Sign {
	value = strings.TrimSpace(value)
	if s.Subject == network.Access {
		word, ok := wordOf[strings.ToLower(value)]
		if !ok {
			word, ok = worst(value)
		}
		if s.Word = word; !ok && value != "unknown" {
			note(Malformed{Key: key, Value: value})
		}
		return s
	}
	likely := ""
	if s.Subject.Mass() {
		r := ReadMass(value)
		s.Value, s.State, likely = int64(r.Value), r.State, r.Likely
		if r.Note != "" {
			note(Malformed{Key: key, Value: value, Taken: r.Note})
		}
	} else {
		read := map[network.Subject]func(string) Reading[measure.Length]{
			network.MaxWidth: ReadWidth, network.MaxWidthPhysical: ReadWidth, network.MaxLength: ReadLength,
		}[s.Subject]
		if read == nil {
			read = ReadHeight
		}
		r := read(value)
		s.Value, s.State, likely = int64(r.Value), r.State, r.Likely
	}
	if s.State == network.Unreadable || s.State == network.Absent {
		s.State = network.Unreadable
		note(Malformed{Key: key, Value: value, Likely: likely})
	}
	return s
}

// worst reads a list of access words as the strictest of them; ok is false
// where one is not understood.
func worst(value string) (out network.Word, ok bool) {
	if !strings.Contains(value, ";") {
		return network.Unread, false
	}
	ok = true
	for _, v := range strings.Split(value, ";") {
		word, known := wordOf[strings.ToLower(strings.TrimSpace(v))]
		if !known {
			word, ok = network.Unread, false
		}
		out = max(out, word)
	}
	return out, ok
}
