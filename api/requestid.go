package api

import (
	"crypto/rand"
	"fmt"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/gin-gonic/gin"
)

// requestID is the header of the name that a request has in the log and in problems.
const requestID = "X-Request-Id"

// plainID reports whether an id that a client sends can stand in a log.
func plainID(id string) bool {
	const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-"
	return id != "" && len(id) <= 64 && strings.Trim(id, letters) == ""
}

// identified gives a request its id: the client's, or a new one.
func identified(c *gin.Context) {
	id := c.GetHeader(requestID)
	if !plainID(id) {
		id = rand.Text()
		c.Request.Header.Set(requestID, id)
	}
	c.Header(requestID, id)
}

// logged puts the id of a request on its problem and logs the cause, which the
// problem does not show.
func (s *Server) logged(ctx huma.Context, _ string, v any) (any, error) {
	if p, ok := v.(*Problem); ok {
		s.log(p, ctx.Header(requestID), ctx.Operation().Path)
		return p.In(spoken(ctx.Context(), ctx.Query, ctx.Header)).settle(ctx.Method()), nil
	}
	return v, nil
}

func (s *Server) log(p *Problem, id, path string) {
	p.RequestID = id
	if p.cause != nil {
		s.Log.Error("request failed", "request", id, "path", path, "status", p.Status, "error", fmt.Sprint(p.cause))
	}
}
