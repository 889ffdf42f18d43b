package main

import (
	"context"
	"log/slog"
	"net/http"
	"os"
	"os/signal"
	"sync"
	"syscall"

	"wayhouse/api/service"
	"wayhouse/regs"
)

// generation is a service on one state of the roads.
type generation struct {
	known   *service.Service
	handler http.Handler
	users   int // requests under way
}

// generations answer each request from the newest roads; those under way keep theirs. A
// file of roads is let go when the last request that it answers has ended.
type generations struct {
	mu  sync.Mutex
	now *generation
	log *slog.Logger
}

// ServeHTTP answers from the newest roads.
func (g *generations) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	one := g.take()
	defer g.leave(one)
	one.handler.ServeHTTP(w, r)
}

func (g *generations) take() *generation {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.now.users++
	return g.now
}

func (g *generations) leave(one *generation) {
	g.mu.Lock()
	defer g.mu.Unlock()
	one.users--
	g.close(one)
}

// close lets the roads of a generation go that nobody uses or will use.
func (g *generations) close(old *generation) {
	if old == nil || old == g.now || old.users > 0 {
		return
	}
	if err := old.known.Planner.Network.Close(); err != nil {
		log := g.log
		log.Error("roads that are no longer used could not be let go", "error", err)
	}
}

// next lets requests that come from now on be answered from other roads, and from tables
// no older than those before.
func (g *generations) next(known *service.Service, handler http.Handler) {
	g.mu.Lock()
	defer g.mu.Unlock()
	old := g.now
	if old != nil {
		known.Swap(old.known.Newest())
	}
	g.now = &generation{known: known, handler: handler}
	g.close(old)
}

// tables lets requests that come from now on be answered from other tables.
func (g *generations) tables(t *regs.Tables) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.now.known.Swap(t)
}

// hear makes a new generation whenever the process is told to read its files again
// (SIGHUP). Where that fails, the one before goes on.
func (g *generations) hear(ctx context.Context, load func(context.Context) (*service.Service, http.Handler, error)) {
	told, log := make(chan os.Signal, 1), g.log
	signal.Notify(told, syscall.SIGHUP)
	defer signal.Stop(told)
	for {
		select {
		case <-ctx.Done():
			return
		case <-told:
		}
		known, handler, err := load(ctx)
		if err != nil {
			log.Error("the roads could not be read again; answers go on with those before", "error", err)
			continue
		}
		g.next(known, handler)
		log.Info("answers from other roads", "revision", known.Planner.Network.About.Revision)
	}
}
