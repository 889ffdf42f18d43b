package api

import (
	"context"
	"net/http"
	"strconv"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
)

// Speaking is in which words an answer is given.
type Speaking struct {
	Lang  string `query:"lang" doc:"Language of the sentences; without it what Accept-Language likes best"`
	Units string `query:"units" doc:"Units of lengths and masses in sentences: both, metric or us"`
}

// Viewing is how an answer is given; what it says of texts and sheets is nothing to the others.
type Viewing struct {
	Speaking
	Full bool   `query:"full" doc:"Of a text: all there is to say, not only the first screen"`
	Why  string `query:"why" maxLength:"200" doc:"Of a text: all that is known of one subject, such as CA-QC, height or a leg"`
	Rows bool   `query:"rows" doc:"Of a text: every row with its source"`
	// Sheet is refused by what writes the sheet, which knows the words.
	Sheet string `query:"sheet" maxLength:"40" doc:"Of a trip as CSV: a line for each of its legs, structures or tasks, or of what its timetable has; legs when left out"`
	// A size that there is none of is refused with what it may be.
	Paper string `query:"paper" enum:"letter,a4" doc:"Of papers: the size of their sheets; letter when left out"`
}

// spoken is the language of the problem of a request: that of its answer, or English
// where none can be read.
func spoken(ctx context.Context, query, header func(name string) string) *phrase.Language {
	if v, ok := ctx.Value(viewChosen{}).(report.View); ok {
		return v.In
	}
	in, err := phrase.Choose(query("lang"), header("Accept-Language"), "")
	if err != nil {
		return phrase.English()
	}
	return in
}

type viewChosen struct{} // key of the view of an answer in the context of its request

// viewing reads how an answer is to be given, and refuses what it cannot be. Whether
// an operation takes such parameters at all, the library asks its input.
func viewing(api huma.API) func(huma.Context, func(huma.Context)) {
	return func(ctx huma.Context, next func(huma.Context)) {
		in, err := phrase.Choose(ctx.Query("lang"), ctx.Header("Accept-Language"), ctx.Query("units"))
		if err != nil {
			_ = huma.WriteErr(api, ctx, http.StatusUnprocessableEntity, "", wrongParameter(err))
			return
		}
		v := report.View{
			In: in, Why: ctx.Query("why"), Sheet: ctx.Query("sheet"), Paper: ctx.Query("paper"),
		}
		v.Full, _ = strconv.ParseBool(ctx.Query("full")) // the library refuses what is neither
		v.Rows, _ = strconv.ParseBool(ctx.Query("rows"))
		ctx.AppendHeader("Vary", "Accept-Language")
		ctx.SetHeader("Content-Language", in.Tag().String())
		next(huma.WithValue(ctx, viewChosen{}, v))
	}
}

// wrongParameter makes the problem of a parameter of the address that cannot be used.
func wrongParameter(err error) *Problem {
	p, _ := AsProblem(err)
	for i := range p.errors {
		p.errors[i].Parameter = true
	}
	return p
}

// viewOf is how the answer of a request is to be given.
func viewOf(ctx context.Context) report.View { return ctx.Value(viewChosen{}).(report.View) }
