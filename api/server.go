// Package api answers over HTTP: routes, problems, and who may
// ask.
package api

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"runtime"
	"strings"
	"sync"
	"time"
	"wayhouse/api/phrase"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
	"github.com/gin-gonic/gin"

	"wayhouse/api/export"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Server answers over HTTP what a service knows.
type Server struct {
	*service.Service
	Log     *slog.Logger
	Version string
	// Ready reports whether the service can answer; nil when it can.
	Ready func(context.Context) error
	// Tables are those that users keep; nil where they cannot be changed.
	Tables *service.Tables
}

// Bounds of one request.
const (
	maxBody  = 8 << 20
	planTime = 30 * time.Second
	// readyAgain is when to look again whether the service is ready.
	readyAgain = 10 * time.Second
	// tablesTime is for how long a request about whole tables may send and wait: its
	// answer comes when all of it was written.
	tablesTime = 30 * time.Minute
)

// Handler returns the service as an http.Handler.
func (s *Server) Handler() http.Handler { return mannered(s.router()) }

func (s *Server) router() *gin.Engine {
	gin.SetMode(gin.ReleaseMode)
	router := gin.New()
	router.HandleMethodNotAllowed = true
	router.RedirectTrailingSlash = false
	router.Use(identified, s.recovered, s.local)
	router.NoRoute(func(c *gin.Context) {
		abort(c, http.StatusNotFound, say.That("problem.nothing_at", "path", c.Request.URL.Path))
	})
	router.NoMethod(func(c *gin.Context) {
		abort(
			c,
			http.StatusMethodNotAllowed,
			say.That("problem.method", "method", c.Request.Method, "path", c.Request.URL.Path),
		)
	})
	routes := humagin.NewWithGroup(router, router.Group("", onlyJSON, patient), s.config())
	wire.Words(routes.OpenAPI().Components.Schemas)
	s.register(routes)
	schemas := routes.OpenAPI().Components.Schemas
	wire.Twins(schemas.Map())
	wire.Describe(schemas.Map())
	wire.Nulls(schemas, "#/components/schemas/")
	wire.Open(routes.OpenAPI())
	heads(routes.OpenAPI())
	describe(router, routes.OpenAPI())
	return router
}

// useProblems makes the library answer its own errors as problems too; it has
// no other place for that than variables.
var useProblems = sync.OnceFunc(func() {
	huma.NewError, huma.DefaultArrayNullable = newProblem, false
	nameFaults()
})

func (s *Server) config() huma.Config {
	useProblems()
	c := huma.DefaultConfig("Wayhouse", s.Version)
	c.OpenAPIPath, c.DocsPath, c.SchemasPath, c.CreateHooks = "", "", "", nil
	c.RejectUnknownQueryParameters = true
	c.Transformers = append(c.Transformers, s.logged)
	plain := huma.Format{Marshal: export.JSON, Unmarshal: readJSON}
	c.Formats = map[string]huma.Format{"application/json": plain, "json": plain}
	return c
}

// register adds the routes.
func (s *Server) register(api huma.API) {
	api.UseMiddleware(viewing(api), accepting(api))
	running := make(chan struct{}, runtime.GOMAXPROCS(0))
	offer[*wire.Trip](s, api, huma.Operation{
		OperationID: "plan-trip", Method: http.MethodPost, Path: "/v1/trips",
		Summary: "Plan a trip, or check a given route", MaxBodyBytes: maxBody,
	}, searched(s, running, s.Plan))
	offer[*wire.Routes](s, api, huma.Operation{
		OperationID: "find-routes", Method: http.MethodPost, Path: "/v1/routes",
		Summary: "The best way of a trip, others beside it, and what bent it", MaxBodyBytes: maxBody,
		Description: "Finds the best way, alternatives, the way of a rig that " +
			"nothing shuts out, and the best way on which no permit is asked for; " +
			"says which structures, signs and wishes bent the way and what each costs; and, where every way is " +
			"shut, what closes it and which size would pass. " +
			"A given route is checked and compared with the best way between its ends instead.",
	}, searched(s, running, s.Routes))
	offer[*wire.Ladders](s, api, huma.Operation{
		OperationID: "climb-ladders", Method: http.MethodPost, Path: "/v1/ladders",
		Summary: "How high, wide or heavy a rig may be on each way past its stops", MaxBodyBytes: maxBody,
		Description: "Lists the exact steps from the greatest rig that passes to " +
			"the fastest way, once with unmeasured structures open and once with them shut. " +
			"Of a tour a step binds on the drive that leaves least; dates of stops are not asked. " +
			"What the given rig is in the quantity is only compared with the steps.",
	}, searched(s, running, s.Ladders))
	offer[*wire.Moves](s, api, huma.Operation{
		OperationID: "plan-moves", Method: http.MethodPost, Path: "/v1/moves",
		Summary: "Plan how one crew moves several units", MaxBodyBytes: maxBody,
		Description: "Plans the way of each unit, and those of the tow vehicle alone between them; puts them in the " +
			"order whose timetable is the best, if asked; and makes one timetable of all, at whose hours each is asked about.",
	}, searched(s, running, s.Moves))
	offer[*wire.Quote](s, api, huma.Operation{
		OperationID: "quote-trip", Method: http.MethodPost, Path: "/v1/quotes",
		Summary: "Price a trip by a rate card", MaxBodyBytes: maxBody,
		Description: "Plans a trip and prices what it takes, low, likely and high. What nobody has a price of is a line " +
			"without an amount: the total is without it, and the quote cannot be final.",
	}, searched(s, running, s.Quote))
	s.registerRigs(api, running)
	offer[wire.Jurisdictions](s, api, huma.Operation{
		OperationID: "list-jurisdictions", Method: http.MethodGet, Path: "/v1/jurisdictions",
		Summary: "Jurisdictions, and whom to ask",
	}, s.listJurisdictions)
	offer[wire.Places](s, api, huma.Operation{
		OperationID: "find-places", Method: http.MethodGet, Path: "/v1/places",
		Summary:     "Towns, addresses, streets and crossings by name",
		Description: "Town, province or state may follow commas.",
	}, s.findPlaces)
	register(api, huma.Operation{
		OperationID: "list-limits", Method: http.MethodGet, Path: "/v1/limits",
		Summary: "Rows of the table of limits",
	}, s.listLimits)
	offer[*wire.Design](s, api, huma.Operation{
		OperationID: "check-design", Method: http.MethodPost, Path: "/v1/checks",
		Summary: "Check a design against jurisdictions, without a route",
	}, answered(s.Check))
	offer[*wire.Comparison](s, api, huma.Operation{
		OperationID: "compare-answers", Method: http.MethodPost, Path: "/v1/comparisons",
		Summary: "In what two checks, rigs, trips or quotes differ", MaxBodyBytes: maxBody,
		Description: "Answers two requests of one kind and lists figures and findings that differ, those whose " +
			"outcome differs first.",
	}, searched(s, running, s.Compare))
	s.registerTables(api)
	s.registerTrips(api, running)
	offer[wire.Sources](s, api, huma.Operation{
		OperationID: "list-sources", Method: http.MethodGet, Path: "/v1/sources",
		Summary: "Where the data comes from, with licences",
	}, s.listSources)
	register(api, huma.Operation{OperationID: "alive", Method: http.MethodGet, Path: "/healthz",
		Summary: "The process runs"}, func(context.Context, *struct{}) (*reply[wire.Status], error) {
		return &reply[wire.Status]{Body: wire.Status{Status: "ok", Version: s.Version}}, nil
	})
	register(api, huma.Operation{
		OperationID: "ready", Method: http.MethodGet, Path: "/readyz", Summary: "The service can answer",
	}, s.ready)
}

// registerRigs adds the routes about rigs.
func (s *Server) registerRigs(api huma.API, running chan struct{}) {
	offer[*wire.RigReport](s, api, huma.Operation{
		OperationID: "report-rig", Method: http.MethodPost, Path: "/v1/rigs",
		Summary: "What a rig weighs, how it stands, pulls and turns", MaxBodyBytes: maxBody,
		Description: "Answers masses on axles and coupling against their ratings, " +
			"states, tipping and wind, turning, what holds the house, and drag. " +
			"With stops or a route it drives the rig along the way: curves, corners, climbs, descents, fuel and fuel stops.",
	}, searched(s, running, s.Rig))
	offerAs[*wire.RigReport](s, api, huma.Operation{
		OperationID: "draw-rig", Method: http.MethodPost, Path: "/v1/rigs/drawing",
		Summary: "A rig to scale: views, how it bends, and in a corner", MaxBodyBytes: maxBody,
		Description: "What /v1/rigs answers to Accept: image/svg+xml or image/png, without its way.",
	}, export.Pictures[*wire.RigAnswer](), searched(s, running, s.drawn))
	offer[wire.PartList](s, api, huma.Operation{
		OperationID: "list-parts", Method: http.MethodGet, Path: "/v1/parts",
		Summary: "The catalogue of parts: mass, spread and source",
	}, s.listParts)
	register(api, huma.Operation{
		OperationID: "get-schema", Method: http.MethodGet, Path: "/v1/schemas/{name}",
		Summary: "The JSON Schema of a unit, a tow vehicle, a trip file or a rig",
	}, s.getSchema)
}

// reply is an answer with a body.
type reply[T any] struct{ Body T }

// edits says what becomes of a change.
func (s *Server) edits(tell *phrase.Language) string {
	switch {
	case s.Tables == nil:
		return ""
	case s.Tables.Unkept:
		return tell.Say(service.NotKept())
	default:
		return "kept"
	}
}

// problem turns an error into what may be shown; its cause is logged when it is
// answered.
func (s *Server) problem(err error) error {
	p, _ := AsProblem(err)
	return p
}

// answered answers a question that takes no search.
func answered[Q, A any](
	ask func(context.Context, wire.Asked[Q]) (A, error),
) func(context.Context, *body[Q]) (A, error) {
	return func(ctx context.Context, in *body[Q]) (A, error) { return ask(ctx, in.Body.Asked) }
}

// searched answers a question of a body that takes a search of the roads.
func searched[Q, A any](
	_ *Server, running chan struct{}, ask func(context.Context, wire.Asked[Q]) (A, error),
) func(context.Context, *body[Q]) (A, error) {
	return searching(running, answered(ask))
}

// searching answers a question that takes a search of the roads. As many are under
// way at once as there are places in running; the rest wait, and give up with their
// time.
func searching[Q, A any](running chan struct{},
	ask func(context.Context, *Q) (A, error)) func(context.Context, *Q) (A, error) {
	return func(ctx context.Context, in *Q) (none A, err error) {
		ctx, cancel := context.WithTimeout(ctx, planTime)
		defer cancel()
		select {
		case running <- struct{}{}:
			defer func() { <-running }()
			return ask(ctx, in)
		case <-ctx.Done():
			return none, ctx.Err()
		}
	}
}

func (s *Server) listJurisdictions(ctx context.Context, _ *struct{ Speaking }) (wire.Jurisdictions, error) {
	return s.Jurisdictions(viewOf(ctx).In), nil
}

func (s *Server) findPlaces(_ context.Context, in *struct {
	Q string `query:"q" required:"true" minLength:"2" maxLength:"100" doc:"The start of what to find"`
}) (wire.Places, error) {
	return s.FindPlaces(in.Q), nil
}

func (s *Server) listLimits(ctx context.Context, in *struct {
	Speaking
	Jurisdiction string `query:"jurisdiction" maxLength:"100" doc:"By code or name; its municipalities are included"`
	Quantity     string `query:"quantity" maxLength:"100" doc:"Such as height"`
}) (*reply[wire.Limits], error) {
	out, err := s.Limits(viewOf(ctx).In, in.Jurisdiction, in.Quantity)
	if err != nil {
		return nil, s.problem(err)
	}
	return &reply[wire.Limits]{Body: out}, nil
}

func (s *Server) listSources(ctx context.Context, _ *struct{ Speaking }) (wire.Sources, error) {
	return s.Sources(viewOf(ctx).In), nil
}

func (s *Server) ready(ctx context.Context, _ *struct{}) (*reply[wire.Status], error) {
	if err := s.Ready(ctx); err != nil {
		p, known := AsProblem(err)
		if !known {
			p.Status, p.again = http.StatusServiceUnavailable, readyAgain
		}
		return nil, p
	}
	return &reply[wire.Status]{
		Body: wire.Status{
			Status: "ready", Tables: s.Newest().Revision, Roads: s.Planner.Network.About.Revision,
			Edits:   s.edits(viewOf(ctx).In),
			Version: s.Version,
		},
	}, nil
}

// recovered answers a panic with a problem that shows nothing of the inside.
func (s *Server) recovered(c *gin.Context) {
	defer func() {
		if r := recover(); r != nil {
			p := inside()
			p.cause = fmt.Errorf("panic: %v", r)
			s.log(p, c.GetHeader(requestID), c.Request.URL.Path)
			if !c.Writer.Written() {
				writeProblem(c, p)
			}
			c.Abort()
		}
	}()
	c.Next()
}

// local lets only this machine ask, by its own names: there is no
// authentication yet. Host and Origin are checked so that a page of another
// site cannot ask through the user's browser.
func (s *Server) local(c *gin.Context) {
	if !loopbackHost(c.Request.Host) {
		abort(c, http.StatusForbidden, say.That("problem.host", "host", c.Request.Host))
		return
	}
	origin := c.GetHeader("Origin")
	if origin == "" {
		return
	}
	if u, err := url.Parse(origin); err != nil || u.Host != c.Request.Host {
		abort(c, http.StatusForbidden, say.That("problem.origin", "origin", origin))
	}
}

// loopbackHost reports whether a host, with or without a port, is this machine.
func loopbackHost(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	host = strings.Trim(host, "[]")
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// CheckAddress refuses an address that other machines can reach.
func CheckAddress(address string) error {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return &measure.FieldError{
			Field: "--address", Value: address, Problem: say.That("error.no_address"),
			Fix: say.That("fix.like", "text", "127.0.0.1:8080"),
		}
	}
	if !loopbackHost(host) {
		return &measure.FieldError{
			Field: "--address", Value: address,
			Problem: say.That("error.can_be_reached_from"),
			Fix:     say.That("fix.use_127_0_0"),
		}
	}
	return nil
}

// onlyJSON wants application/json on whatever has a body but a CSV.
func onlyJSON(c *gin.Context) {
	switch c.Request.Method {
	case http.MethodGet, http.MethodHead, http.MethodOptions:
		return
	case http.MethodDelete:
		if c.Request.ContentLength == 0 {
			return
		}
	}
	want := "application/json"
	if c.FullPath() == "/v1/tables/:table/csv" {
		want = "text/csv"
	}
	if c.ContentType() != want {
		abort(
			c,
			http.StatusUnsupportedMediaType,
			say.That("problem.content_type", "is", c.GetHeader("Content-Type"), "want", want),
		)
	}
}

// patient gives requests about whole tables more time than the server does, so that
// a long one is answered.
func patient(c *gin.Context) {
	for _, path := range []string{"/v1/tables", "/v1/revisions", "/v1/upgrade"} {
		if strings.HasPrefix(c.FullPath(), path) {
			r, until := http.NewResponseController(c.Writer), time.Now().Add(tablesTime)
			_, _ = r.SetReadDeadline(until), r.SetWriteDeadline(until) // a recorder of tests has none
		}
	}
}

func abort(c *gin.Context, status int, detail say.Remark) {
	writeProblem(c, plainProblem(status, detail))
	c.Abort()
}

func writeProblem(c *gin.Context, p *Problem) {
	p.RequestID = c.GetHeader(requestID)
	raw, err := json.Marshal(p.In(spoken(c.Request.Context(), c.Query, c.GetHeader)).settle(c.Request.Method))
	if err != nil {
		c.Status(http.StatusInternalServerError)
		return
	}
	c.Data(p.Status, problemType, raw)
}
