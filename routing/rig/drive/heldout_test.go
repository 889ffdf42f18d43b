package drive

import "testing"

// heldOut is a log that was found after every figure of this package had been set, with
// how it was driven.
type heldOut struct {
	published
	flow Flow
}

// What was found later, in order of where it was read; no figure was set by it, and none
// is to be. Masses of trucks and sizes that were not published are from memory, or as a
// maker says of the kind: boxes of 6 ft on trailers 7 ft wide, of 6 ft 6 in on those of 8
// ft 6 in (snappertrailers.com, selecting enclosed cargo trailer size, read), with about 2
// ft beneath.
//   - tfltruck.com, top 10 most efficient trucks, March 2018 (read): ten crew cabs and
//     others with one enclosed trailer, 20 ft long, of 7,000 lb in all, at 70 mph round a
//     loop of 100 miles near Denver. The thirstier ones of more than a dozen are left out
//     there.
//   - special-reports.pickuptrucks.com, ultimate one-ton challenge, fuel economy, August
//     2014 (read): three diesels with 16,000 lb of trailer and a screen of 64 sq ft in
//     front, 150 miles of towns, country and motorways: 7.76 mpg, which is 7 % and more
//     than 10 % better than the two others.
//   - bangshift.com, weight vs aerodynamics (read): gasoline, an enclosed trailer 7 ft wide
//     and almost 9 ft tall, with a v nose and a heat pump on it, less than 3,500 lb, on flat
//     ground at 60 to 70 mph and more: 7.8 to 7.9 mpg.
//   - tundra47.rssing.com, a trip from Charlotte to Denver (read): gasoline, an enclosed
//     trailer of 14 ft and about 2,500 lb, hardly over 65 mph, 9.6 mpg over 3,500 miles.
//   - jaycoowners.com, 5200 mile towing trip (read): gasoline, about 4,800 lb at 65 mph,
//     11.66 mpg by hand.
//   - tugsjournal.blogspot.com, eight lugs, August 2015 (read): diesel, 20,000 lb in all, a
//     fifth wheel, at 55 mph and more across Missouri, 10 mpg.
//   - thetinyokanaganlife.blogspot.com, moving days, July 2014 (read): a tiny house behind a
//     rented one-ton diesel over mountain passes at 80 to 90 km/h, 25 L/100 km.
//   - community.goodsam.com, "The elusive 10 mpg", another answer (read): gasoline, 12,000
//     lb in all, 8.5 to 9.5 mpg.
//   - community.goodsam.com, "18 mpg Dodge while towing" (read): diesel, a fifth wheel of
//     11,000 lb, 12 to 12.5 mpg over several tanks.
//   - community.goodsam.com, "Fuel mileage", fifth wheels, the second trailer of the answer
//     of which the two others are among [publishedLogs] (read): 9,400 lb, 11 mpg.
//   - goseeaustralia.com.au, fuel cost, May 2013 (read): a diesel pickup with a caravan of
//     2,500 kg, 17.5 L/100 km.
var heldOutLogs = []heldOut{
	{box("Ram 1500 diesel", Diesel, 12_800, 13.3), Free},
	{box("Discovery diesel", Diesel, 12_300, 12.9), Free},
	{box("Titan XD diesel", Diesel, 14_300, 10.7), Free},
	{box("Silverado 1500", Gasoline, 12_600, 10.6), Free},
	{box("Titan XD gasoline", Gasoline, 13_900, 9.6), Free},
	{box("F-150, ten speeds", Gasoline, 12_500, 9.1), Free},
	{box("Yukon XL", Gasoline, 13_100, 9.1), Free},
	{box("Titan 1500", Gasoline, 12_900, 8.6), Free},
	{box("F-150, six speeds", Gasoline, 12_500, 8.5), Free},
	{box("Raptor", Gasoline, 13_000, 8.4), Free},
	{screened("screen, Sierra 3500", 7.76), Broken},
	{screened("screen, Ram 3500", 7.76/1.07), Broken},
	{screened("screen, F-350", 7.76/1.1), Broken},
	{published{
		"v nose of 14 ft", Gasoline, ends{9800, 10_500}, ends{60, 72}, 2.13, 2.7, NoseUnknown, 0, 0, 7.85,
	}, Free},
	{published{
		"box of 14 ft", Gasoline, ends{8500, 9200}, ends{62, 66}, 2.13, 2.4, NoseUnknown, 0, 0, 9.6,
	}, Free},
	{published{
		"small trailer", Gasoline, ends{10_300, 10_900}, ends{65, 65}, 2.2, 2.95, NoseUnknown, 0, 0, 11.66,
	}, Free},
	{published{
		"fifth wheel, Missouri", Diesel, ends{20_000, 20_000}, ends{55, 60}, 2.44, 3.9, Rounded, 0, 0, 10,
	}, Free},
	{published{
		"house over the passes", Diesel, ends{14_000, 20_000}, ends{50, 56}, 2.59, 4.11, NoseUnknown, 0, 0, 235.2146 / 25,
	}, Broken},
	{published{
		"26 ft trailer, large car", Gasoline, ends{12_000, 12_000}, ends{60, 65}, 2.44, 3.2, Flat, 0, 0, 9,
	}, Free},
	{published{
		"fifth wheel of 11,000 lb", Diesel, ends{17_500, 18_500}, ends{55, 65}, 2.44, 3.75, Rounded, 0, 0, 12.25,
	}, Free},
	{published{
		"fifth wheel of 9,400 lb", Diesel, ends{17_000, 17_500}, ends{55, 65}, 2.44, 3.75, Rounded, 0, 0, 11,
	}, Free},
	{published{
		"caravan", Diesel, ends{10_100, 10_600}, ends{56, 62}, 2.5, 2.95, Flat, 0, 0, 235.2146 / 17.5,
	}, Free},
}

// box is a log of the loop near Denver, which lies about 1450 m high.
func box(of string, fuel Fuel, pounds, mpg float64) published {
	return published{of, fuel, ends{pounds - 300, pounds + 300}, ends{70, 70}, 2.59, 2.6, NoseUnknown, 0, 1450, mpg}
}

// screened is one with the screen of 8 ft by 8 ft, on a deck 3 ft high; through towns at
// 40, on motorways at 60 mph.
func screened(of string, mpg float64) published {
	return published{of, Diesel, ends{23_700, 24_500}, ends{40, 60}, 2.44, 3.35, Flat, 0, 0, mpg}
}

// The range holds nine of ten logs that no figure was set by.
func TestLogsHeldOut(t *testing.T) {
	held := 0
	for _, p := range heldOutLogs {
		if p.holds(t, p.flow) {
			held++
		}
	}
	if n := len(heldOutLogs); n < 10 || float64(held) < 0.9*float64(n) {
		t.Errorf("holds %d of %d", held, n)
	}
}

// What was not published of a log widens its range, so that the above is easily met. With
// mass and speed taken from the middle of what was told, as if they were known, the range
// is as narrow as it gets, and holds 34 of all 38.
func TestLogsTakenAsKnown(t *testing.T) {
	held, all := 0, heldOutLogs
	for _, p := range publishedLogs {
		all = append(all, heldOut{p, Free})
	}
	for _, p := range all {
		p.pounds = ends{(p.pounds[0] + p.pounds[1]) / 2, (p.pounds[0] + p.pounds[1]) / 2}
		p.mph = ends{(p.mph[0] + p.mph[1]) / 2, (p.mph[0] + p.mph[1]) / 2}
		if p.holds(t, p.flow) {
			held++
		}
	}
	if share := float64(held) / float64(len(all)); share < Coverage-0.03 {
		t.Errorf("holds %d of %d", held, len(all))
	}
}
