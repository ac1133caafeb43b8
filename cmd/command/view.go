//go:build !js

package command

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os/signal"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"runnel/cmd/call"
	"runnel/cmd/trust"
	"runnel/cmd/viewer"
	"runnel/export/campus"
	"runnel/export/record"
	"runnel/export/staged"
)

// view is one call of "runnel view".
type view struct {
	call.Streams
	listen  string
	noRerun bool
	page    bool
	allowed map[string]string // what the user allowed runs to read that are not known, by run
}

// views are the commands that show results.
func views(s call.Streams) []*cobra.Command { return []*cobra.Command{newView(s)} }

func newView(s call.Streams) *cobra.Command {
	k := &view{Streams: s}
	c := &cobra.Command{
		Use:   viewName + " FOLDER",
		Short: "Show results in a browser and keep them up to date",
		Long: `view serves the folder that check or campus wrote into, to this machine alone, and prints the
address to open. It reads the files that the results were made from again when one of them
changes, and the open pages show the new result. While an input cannot be used, the last result
stays, and the page and the terminal say why. Ctrl-C ends it.

Only results that you wrote on this machine are made again, and only their pages are shown. Of
others view lists every file that it would read, and asks; their pages are offered as downloads.

With --page it serves runnel itself as a page, which checks roofs in the browser: the folder that
"make page" wrote, given by name, or else dist/page here, or the folder page beside the program.`,
		Example: `  runnel check outline.geojson spots.csv -o out
  runnel view out
  runnel view out --listen 192.168.1.20:8080   # for a phone on the roof, in a network you trust
  runnel view --page                           # the program as a page, on this machine`,
		Args: func(c *cobra.Command, args []string) error {
			if k.page && len(args) == 0 {
				return nil
			}
			return call.Arguments(1, 1, "give the folder that check or campus wrote into")(c, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(context.Background(), call.Endings()...)
			defer stop()
			if k.page {
				return k.servePage(ctx, args)
			}
			return k.run(ctx, args[0])
		},
	}
	c.Flags().BoolVar(&k.noRerun, "no-rerun", false, "show the results as they are; read no input and make nothing again")
	c.Flags().BoolVar(&k.page, "page", false, "serve the program as a page, which checks roofs in the browser")
	c.Flags().StringVar(&k.listen, "listen", "127.0.0.1", "`ADDRESS` to serve at, with or without a port (:0 or none: a free one); whoever reaches it can read the results")
	return c
}

// Times of the server.
const (
	every   = 500 * time.Millisecond // between two looks at the inputs
	patient = 10 * time.Second       // for a request
	sending = 2 * time.Minute        // for an answer, the greatest files over a slow network
	parting = time.Second            // for open requests at the end
)

// run serves the folder until ctx ends.
func (k *view) run(ctx context.Context, folder string) error {
	for _, text := range staged.Settle(folder) {
		call.Note(k.Err, "warning: "+text)
	}
	f, err := viewer.Open(folder)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	if !k.noRerun {
		k.ask(ctx, f.Runs(), folder)
	}
	s, err := k.open(ctx, func(known func(string) bool) http.Handler {
		return f.Handler(viewer.Guard{Known: known, Wrote: func(name string, content []byte) bool { return trust.Page(folder, name, content) }})
	}, "whoever can reach this address can read these results.")
	if err != nil {
		return err
	}
	return k.serve(ctx, f, folder, s)
}

// serving is a server at work.
type serving struct {
	*http.Server
	failed chan error
}

// open serves what handler makes of the names that requests may be addressed to, says where, and warns where others can reach it.
func (k *view) open(ctx context.Context, handler func(known func(string) bool) http.Handler, warning string) (*serving, error) {
	listener, at, known, err := k.listenAt(ctx)
	if err != nil {
		return nil, err
	}
	s := &serving{newServer(handler(known)), make(chan error, 1)}
	go func() { s.failed <- s.Serve(listener) }()
	if _, err := fmt.Fprintf(k.Out, "http://%s/\n", shownAddress(at)); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	if !at.IP.IsLoopback() {
		call.Note(k.Err, "warning: "+warning)
	}
	return s, nil
}

// until waits until ctx ends, and then for open requests a little, or until the server fails.
func (s *serving) until(ctx context.Context) error {
	select {
	case <-ctx.Done():
		soon, cancel := context.WithTimeout(context.Background(), parting)
		defer cancel()
		if s.Shutdown(soon) != nil {
			_ = s.Close()
		}
		return nil
	case err := <-s.failed:
		return err
	}
}

// listenAt listens where --listen says, and tells which names requests may be addressed to.
func (k *view) listenAt(ctx context.Context) (listener net.Listener, at *net.TCPAddr, known func(string) bool, err error) {
	host, port, err := splitAddress(k.listen)
	if err != nil {
		return nil, nil, nil, err
	}
	if listener, err = new(net.ListenConfig).Listen(ctx, "tcp", net.JoinHostPort(host, port)); err != nil {
		return nil, nil, nil, fmt.Errorf("--listen %s: %w", k.listen, err)
	}
	if at, err = addressOf(listener); err != nil {
		return nil, nil, nil, err
	}
	return listener, at, knownHosts(host, at), nil
}

// newServer returns a server that waits for nobody for ever.
func newServer(h http.Handler) *http.Server {
	return &http.Server{
		Handler: h, ReadHeaderTimeout: patient, ReadTimeout: patient, WriteTimeout: sending, IdleTimeout: time.Minute, MaxHeaderBytes: 1 << 14,
	}
}

// serve watches the inputs until ctx ends or the server fails.
func (k *view) serve(ctx context.Context, f *viewer.Folder, folder string, s *serving) error {
	watching, stop := context.WithCancel(ctx)
	defer stop()
	var watcher sync.WaitGroup
	watcher.Go(func() { f.Watch(watching, every, k.source(watching, folder)) })
	err := s.until(ctx)
	stop()
	if k.Process { // a run may take minutes: leave it, and take its unfinished files away
		staged.Halt()
		staged.Sweep()
		return err
	}
	watcher.Wait()
	return err
}

// source makes the runs of a folder again, as the command line would.
func (k *view) source(ctx context.Context, folder string) viewer.Source {
	say := func(text string) { call.Note(k.Err, time.Now().Format(time.TimeOnly)+" "+text) }
	if k.noRerun {
		return viewer.Source{Say: say}
	}
	return viewer.Source{
		Inputs: func(r record.Run) ([]string, error) {
			again, err := k.again(r, folder)
			return again.Inputs, err
		},
		Check: func(r record.Run) error {
			again, err := k.again(r, folder)
			if err != nil {
				return err
			}
			return rerun(ctx, again)
		},
		Say: say,
	}
}

// rerun runs a command line until ctx ends and returns what went wrong in words for a page; findings are nothing wrong.
func rerun(ctx context.Context, again call.Repetition) error {
	var page bytes.Buffer
	err := run(again.Arguments, call.Streams{Context: ctx, Out: &page, Err: new(bytes.Buffer), Allowed: again.Allowed})
	switch call.ExitCode(err) {
	case call.ExitDone, call.ExitFindings:
		return nil
	case call.ExitPartial:
		var reasons []string
		for line := range strings.Lines(page.String()) {
			if strings.Contains(line, campus.NotChecked) {
				reasons = append(reasons, strings.TrimSpace(line))
			}
		}
		return errors.New(strings.Join(reasons, "\n"))
	}
	return errors.New(call.Explain(err))
}

// splitAddress reads HOST, HOST:PORT or :PORT; without a host it is this machine alone, without a port a free one.
func splitAddress(text string) (host, port string, err error) {
	host, port = strings.Trim(text, "[]"), "0"
	if h, p, err := net.SplitHostPort(text); err == nil {
		host, port = h, p
	} else if strings.Count(text, ":") == 1 {
		return "", "", call.Usage("--listen %s: give an address with or without a port, such as 127.0.0.1:8080", text)
	}
	if host == "" {
		host = "127.0.0.1"
	}
	return host, port, nil
}

func addressOf(l net.Listener) (*net.TCPAddr, error) {
	at, ok := l.Addr().(*net.TCPAddr)
	if !ok {
		return nil, errors.Join(fmt.Errorf("listen: %v is no address of a network", l.Addr()), l.Close())
	}
	return at, nil
}

// shownAddress is what to open in a browser.
func shownAddress(at *net.TCPAddr) string {
	ip := at.IP
	if ip.IsUnspecified() {
		ip = net.IPv4(127, 0, 0, 1)
	}
	return net.JoinHostPort(ip.String(), fmt.Sprint(at.Port))
}

// knownHosts tells which names a request may be addressed to: the address itself, localhost where that is this
// machine, the name given to --listen; at an address that stands for all of a machine's, any number, since a
// page of another site always comes with a name.
func knownHosts(given string, at *net.TCPAddr) func(string) bool {
	port := fmt.Sprint(at.Port)
	return func(text string) bool {
		host, p, err := net.SplitHostPort(text)
		if err != nil {
			host, p = strings.Trim(text, "[]"), "80"
		}
		if p != port {
			return false
		}
		ip := net.ParseIP(host)
		switch {
		case ip != nil:
			return ip.Equal(at.IP) || at.IP.IsUnspecified()
		case strings.EqualFold(host, "localhost"):
			return at.IP.IsLoopback() || at.IP.IsUnspecified()
		}
		return strings.EqualFold(host, given)
	}
}
