package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api"
	"wayhouse/api/service"
	"wayhouse/regs"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// Time-outs of the server. A plan may take as long as a plan may take.
const (
	readTimeout     = 30 * time.Second
	writeTimeout    = 60 * time.Second
	idleTimeout     = 2 * time.Minute
	shutdownTimeout = 10 * time.Second
)

func serveCommand(clock func() time.Time) *cobra.Command {
	var address string
	var from sources
	c := &cobra.Command{
		Use: "serve", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := api.CheckAddress(address); err != nil {
				return err
			}
			log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil))
			known, tables, err := load(cmd.Context(), from, clock, withRoads)
			if err != nil {
				return err
			}
			defer tables.Close()
			server := serverOf(known, tables, from, log)
			roads := &generations{log: log}
			roads.next(known, server.Handler())
			listener, err := net.Listen("tcp", address)
			if err != nil {
				return err
			}
			if err := says(cmd, say.That("command.serving", "address", listener.Addr().String())); err != nil {
				return err
			}
			if server.Tables.Unkept {
				fmt.Fprintln(cmd.OutOrStdout(), speaks(cmd).Say(service.NotKept()))
			}
			ctx, stop := context.WithCancel(cmd.Context())
			defer stop()
			go follow(ctx, tables, roads.tables, log)
			go roads.hear(ctx, func(ctx context.Context) (*service.Service, http.Handler, error) {
				again, err := serviceOf(ctx, from, tables, clock, withRoads)
				if err != nil {
					return nil, nil, err
				}
				return again, serverOf(again, tables, from, log).Handler(), nil
			})
			return serve(ctx, listener, roads, log)
		},
	}
	c.Flags().StringVar(&address, "address", "127.0.0.1:8080", "")
	c.Flags().StringVar(&from.network, "network", "", "")
	from.flags(c.Flags())
	return c
}

// serverOf answers over HTTP what a service knows, and changes its tables.
func serverOf(known *service.Service, tables *store.Store, from sources, log *slog.Logger) *api.Server {
	kept := &service.Tables{Store: tables, Clock: known.Clock, Unkept: !from.kept()}
	kept.Follow(known, log)
	return &api.Server{Service: known, Log: log, Version: version(), Ready: tables.Ping, Tables: kept}
}

// follow hands the newest tables on, whoever changed them.
func follow(ctx context.Context, tables *store.Store, swap func(*regs.Tables), log *slog.Logger) {
	_ = tables.Watch(ctx, 0, func(number int) { // it ends with the context
		snapshot, err := tables.SnapshotAt(ctx, number)
		if err != nil {
			log.Error("the newest tables could not be read; answers go on with those before", "revision", number, "error", err)
			return
		}
		swap(snapshot)
	})
}

// serve answers until the context ends, then lets running requests finish.
func serve(ctx context.Context, listener net.Listener, handler http.Handler, log *slog.Logger) error {
	server := &http.Server{
		Handler: handler, ReadTimeout: readTimeout, WriteTimeout: writeTimeout, IdleTimeout: idleTimeout,
		ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), shutdownTimeout)
	defer cancel()
	if err := server.Shutdown(grace); err != nil {
		return err
	}
	if err := <-failed; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
