package export

import (
	"image/color"
	"io"

	"github.com/paulmach/orb"
	"github.com/twpayne/go-kml/v3"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// asKML is for maps that are looked at (OGC KML 2.3, 12-007r2; nothing of it is newer than
// 2.2, which has the same namespace).
func asKML() Format {
	return Format{"kml", "application/vnd.google-earth.kml+xml", []writer{of(tripMap), of(wayMap), of(ladderMap)}}
}

// tripMap writes a trip: a folder with a line for each leg, and one with each kind of
// thing to look at.
func tripMap(w io.Writer, v report.View, p *trip.Plan) error {
	legs := folder(v.In, say.That("export.legs"))
	for i, l := range p.Legs {
		legs.Add(mark(v.In, legName(i, l), style(l.Verdict().Outcome()), lineOf(degrees(l.Line)), legSays(l)))
	}
	doc := documentOf(v.In, title(p), about(p), p.About.Attribution, legs)
	kinds := map[string]*kml.FolderElement{}
	for _, s := range spots(p, wire.NewTrip(v.In, p)) {
		if kinds[s.feature] == nil {
			kinds[s.feature] = folder(v.In, s.folder)
			doc.Add(kinds[s.feature])
		}
		kinds[s.feature].Add(mark(v.In, s.name, "", kml.Point(at(s.point)), s.says))
	}
	return kml.KML(doc).WriteIndent(w, "", " ")
}

// wayMap writes ways, a placemark each.
func wayMap(w io.Writer, v report.View, r *trip.Routes) error {
	doc := documentOf(v.In, title(r.Best), about(r.Best), r.Best.About.Attribution)
	for _, way := range ways(r) {
		shape := kml.MultiGeometry()
		for _, l := range lines(way.plan) {
			shape.Add(lineOf(l))
		}
		says := append(way.plan.Notice(), say.That("export.length", "length", way.plan.Length))
		doc.Add(mark(v.In, way.name, style(way.plan.Verdict.Outcome()), shape, says...))
	}
	return kml.KML(doc).WriteIndent(w, "", " ")
}

// ladderMap writes both ladders, a folder each with its steps.
func ladderMap(w io.Writer, v report.View, l *trip.Ladders) error {
	doc := documentOf(
		v.In,
		named(l.Name, say.Text(l.Stops[0]), say.Text(l.Stops[len(l.Stops)-1])),
		l.Notice(),
		l.About.Attribution,
	)
	for _, one := range []struct {
		name say.Remark
		of   choosing.Ladder
	}{{say.That("export.unmeasured_open"), l.Open}, {say.That("export.unmeasured_shut"), l.Shut}} {
		steps := folder(v.In, one.name)
		for _, s := range one.of.Steps {
			size := say.That("export.any_size")
			if s.Most > 0 {
				size = say.That("export.up_to", "quantity", l.Quantity, "most", l.Quantity.Of(s.Most))
			}
			says := say.That("export.step_says", "length", s.Length, "by", s.By, "unknowns", len(s.Unknowns))
			steps.Add(mark(v.In, size, style(finding.Unknown), lineOf(degrees(s.Line)), says))
		}
		doc.Add(steps)
	}
	return kml.KML(doc).WriteIndent(w, "", " ")
}

func documentOf(in *phrase.Language, name say.Remark, says []say.Remark, credit string,
	parts ...kml.Element) *kml.DocumentElement {
	doc := kml.Document(kml.Name(in.Say(name)), kml.Description(in.Sentences(says)+" "+credit))
	for _, o := range finding.Outcomes() {
		doc.Add(kml.SharedStyle(string(o), kml.LineStyle(kml.Color(colours()[o]), kml.Width(5))))
	}
	doc.Add(parts...)
	return doc
}

// colours tell legs apart at a glance; the words stand in each description.
func colours() map[finding.Outcome]color.Color {
	return map[finding.Outcome]color.Color{
		finding.Clear: color.RGBA{0x1b, 0x7f, 0x4b, 0xff}, finding.Conditional: color.RGBA{0x1f, 0x5f, 0xa8, 0xff},
		finding.Review: color.RGBA{0xc7, 0x6a, 0x00, 0xff}, finding.Forbidden: color.RGBA{0xb0, 0x1e, 0x28, 0xff},
		finding.Unknown: color.RGBA{0x5a, 0x5a, 0x5a, 0xff},
	}
}

func style(o finding.Outcome) string { return "#" + string(o) }

func folder(in *phrase.Language, name say.Remark) *kml.FolderElement {
	return kml.Folder(kml.Name(in.Say(name)))
}

// mark is a placemark; its parts stand in the order of the schema.
func mark(in *phrase.Language, name say.Remark, style string, shape kml.Element,
	says ...say.Remark) *kml.PlacemarkElement {
	m := kml.Placemark(kml.Name(in.Say(name)), kml.Description(in.Sentences(says)))
	if style != "" {
		m.Add(kml.StyleURL(style))
	}
	m.Add(shape)
	return m
}

func lineOf(line orb.LineString) *kml.LineStringElement {
	return kml.LineString(kml.Tessellate(true), at(line...))
}

func at(line ...orb.Point) kml.CoordinatesElement {
	var out []kml.Coordinate
	for _, p := range line {
		out = append(out, kml.Coordinate{Lon: p.Lon(), Lat: p.Lat()})
	}
	return kml.Coordinates(out...)
}
