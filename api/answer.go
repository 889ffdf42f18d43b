package api

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"mime"
	"net/http"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/export"
	"wayhouse/api/report"
	"wayhouse/regs/say"
)

// taken is an answer in the form that was asked for.
type taken struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Body        []byte
}

// offer adds an operation that answers with an A in the form that Accept asks for,
// among all those that there are for it. W is its JSON.
func offer[W, Q, A any](s *Server, api huma.API, op huma.Operation, answer func(context.Context, *Q) (A, error)) {
	offerAs[W](s, api, op, export.For[A](), answer)
}

// offerAs adds an operation that answers in some formats.
func offerAs[W, Q, A any](s *Server, api huma.API, op huma.Operation, formats []export.Format,
	answer func(context.Context, *Q) (A, error)) {
	content := map[string]*huma.MediaType{}
	for _, f := range formats {
		of := &huma.Schema{Type: huma.TypeString}
		switch {
		case f.Name == "json":
			of = api.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[W](), true, "")
		case strings.HasSuffix(f.Media, "json"):
			of = &huma.Schema{Type: huma.TypeObject, AdditionalProperties: true}
		}
		content[mediaType(f)] = &huma.MediaType{Schema: of}
	}
	op.DefaultStatus = http.StatusOK
	op.Responses = map[string]*huma.Response{"200": {Description: "The answer in the form that Accept asks for",
		Content: content}}
	op.Metadata = map[string]any{formatsOf: formats}
	register(api, op, func(ctx context.Context, in *Q) (*taken, error) {
		a, err := answer(ctx, in)
		if err != nil {
			return nil, s.problem(err)
		}
		v := viewOf(ctx)
		v.Called, v.Printed = s.Planner.Areas.Called, s.Clock()
		out, err := takenAs(ctx.Value(formatChosen{}).(export.Format), v, a)
		if err != nil {
			return nil, s.problem(err)
		}
		return out, nil
	})
}

func takenAs(f export.Format, v report.View, answer any) (*taken, error) {
	var out bytes.Buffer
	if err := f.Write(&out, v, answer); err != nil {
		return nil, err
	}
	t := &taken{ContentType: f.Media, Body: out.Bytes()}
	if named, ok := answer.(interface{ FileName() string }); ok {
		t.Disposition = fmt.Sprintf("attachment; filename=%q", named.FileName())
	}
	return t, nil
}

const formatsOf = "formats" // of an operation, in its metadata; JSON alone where there are none

type formatChosen struct{} // key of the format of an answer in the context of its request

// accepting chooses the form of an answer, and refuses a request that takes none of
// them before anything is worked out.
func accepting(api huma.API) func(huma.Context, func(huma.Context)) {
	onlyJSON, err := export.Named("json", export.Formats())
	if err != nil {
		panic(err) // a test asks for all
	}
	return func(ctx huma.Context, next func(huma.Context)) {
		formats, ok := ctx.Operation().Metadata[formatsOf].([]export.Format)
		if !ok {
			formats = []export.Format{onlyJSON}
		}
		f := accepted(ctx.Header("Accept"), formats)
		if f == nil {
			_ = huma.WriteErr(api, ctx, http.StatusNotAcceptable, "", plainProblem(http.StatusNotAcceptable,
				say.That("problem.not_offered", "accept", ctx.Header("Accept"), "offered", mediaTypes(formats),
					"track", strings.Contains(ctx.Header("Accept"), "gpx"))))
			return
		}
		ctx.AppendHeader("Vary", "Accept")
		next(huma.WithValue(ctx, formatChosen{}, *f))
	}
}

func mediaType(f export.Format) string {
	name, _, _ := strings.Cut(f.Media, ";")
	return name
}

func mediaTypes(of []export.Format) (out []string) {
	for _, f := range of {
		out = append(out, mediaType(f))
	}
	return out
}

// accepted is the format that a client likes best (RFC 9110, section 12.5.1), nil
// where it takes none. Of those that it likes alike JSON comes first.
func accepted(header string, among []export.Format) *export.Format {
	if strings.TrimSpace(header) == "" {
		header = "*/*"
	}
	var best *export.Format
	most := 0.0
	for i := range among {
		q := quality(header, mediaType(among[i]))
		if q > most || q == most && q > 0 && among[i].Name == "json" {
			best, most = &among[i], q
		}
	}
	return best
}

// quality is how much an Accept header wants a media type, from 0 to 1: what its
// nearest range says.
func quality(header, media string) float64 {
	kind, _, _ := strings.Cut(media, "/")
	ranges := []string{"*/*", kind + "/*", media} // from far to near
	nearest, out := -1, 0.0
	for _, part := range strings.Split(header, ",") {
		name, params, err := mime.ParseMediaType(part)
		q := cmp.Or(params["q"], "1")
		delete(params, "q")
		delete(params, "charset")
		near := slices.Index(ranges, name)
		if err != nil || near <= nearest || len(params) > 0 { // no form here has a flavour
			continue
		}
		nearest = near
		out, _ = strconv.ParseFloat(q, 64) // what is no number wants nothing
	}
	return out
}
