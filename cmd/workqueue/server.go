// Package workqueue hands chunks of a campus to workers through a NATS server with JetStream, which keeps each until a worker
// has said that it is done, and hands it out again where a worker falls silent.
package workqueue

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
)

// Local is the server that is asked where none is named: one on this machine.
const Local = "nats://127.0.0.1:4222"

// Names on the server.
const (
	streamName   = "RUNNEL"
	consumerName = "workers"
	chunks       = "runnel.chunk." // and the run
	notes        = "runnel.note."  // and the run
)

// Times.
const (
	Silence = time.Minute     // after which a chunk whose worker says nothing is handed out again
	connect = 5 * time.Second // a server may take to answer
	twice   = 10 * time.Minute
)

// Error is what is wrong with the server, and what mends it.
type Error struct {
	What, Mend string
	Err        error // nil where What says all
}

// Error says both.
func (e *Error) Error() string {
	if e.Err == nil {
		return e.What + ": " + e.Mend
	}
	return fmt.Sprintf("%s (%v): %s", e.What, e.Err, e.Mend)
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// CheckURL refuses what is not the place of a server, or holds what must not stand on a command line.
func CheckURL(text string) error {
	for one := range strings.SplitSeq(text, ",") {
		u, err := url.Parse(one)
		if err != nil || u.Scheme != "nats" && u.Scheme != "tls" || u.Hostname() == "" || u.Path != "" && u.Path != "/" || u.RawQuery != "" {
			return errors.New("give the server as nats://HOST:4222, or tls://HOST:4222 to insist on encryption; several separated by commas")
		}
		if u.User != nil {
			return errors.New("a name, password or token must not stand on the command line, where others can read it: put it into NATS_USER and NATS_PASSWORD, NATS_TOKEN, or name a file in NATS_CREDS")
		}
	}
	return nil
}

// Queue is a connection to the server.
type Queue struct {
	silence  time.Duration
	net      *nats.Conn
	js       jetstream.JetStream
	stream   jetstream.Stream
	consumer jetstream.Consumer // of workers; nil before Next
}

// Open connects to the server and makes the stream unless it is there. name says on the server who this is; say is told when the
// server falls silent and when it is back. silence is Silence but in tests. The error is an *Error.
func Open(ctx context.Context, address, name string, silence time.Duration, say func(string)) (*Queue, error) {
	options, err := access()
	if err != nil {
		return nil, err
	}
	options = append(options,
		nats.Name(name), nats.Timeout(connect), nats.MaxReconnects(-1), nats.ReconnectWait(time.Second), nats.ReconnectJitter(time.Second, time.Second),
		nats.DisconnectErrHandler(func(c *nats.Conn, _ error) {
			if !c.IsClosed() {
				say("the queue's server does not answer; trying again until it does")
			}
		}),
		nats.ReconnectHandler(func(*nats.Conn) { say("the queue's server is back") }),
		nats.ErrorHandler(func(*nats.Conn, *nats.Subscription, error) {}),
	)
	q := &Queue{silence: silence}
	if q.net, err = nats.Connect(address, options...); err != nil {
		return nil, refused(address, err)
	}
	if q.js, err = jetstream.New(q.net); err == nil {
		err = q.ready(ctx)
	}
	if err != nil {
		q.net.Close()
		return nil, unready(err)
	}
	return q, nil
}

// Close ends the connection, once what was said is with the server.
func (q *Queue) Close() {
	q.Flush()
	q.net.Close()
}

// access reads from the environment who this is and whom to trust; the names are those that the server's own tools read.
func access() (options []nats.Option, err error) {
	get := os.Getenv
	if path := get("NATS_CREDS"); path != "" {
		options = append(options, nats.UserCredentials(path))
	}
	if path := get("NATS_NKEY"); path != "" {
		key, err := nats.NkeyOptionFromSeed(path)
		if err != nil {
			return nil, &Error{"NATS_NKEY cannot be used", "name a file that holds the seed of a user", err}
		}
		options = append(options, key)
	}
	if user := get("NATS_USER"); user != "" {
		options = append(options, nats.UserInfo(user, get("NATS_PASSWORD")))
	}
	if token := get("NATS_TOKEN"); token != "" {
		options = append(options, nats.Token(token))
	}
	if path := get("NATS_CA"); path != "" {
		options = append(options, nats.RootCAs(path))
	}
	if path := get("NATS_CERT"); path != "" {
		options = append(options, nats.ClientCert(path, get("NATS_KEY")))
	}
	for _, name := range []string{"NATS_CREDS", "NATS_CA", "NATS_CERT"} {
		if path := get(name); path != "" {
			if _, err := os.Stat(path); err != nil {
				return nil, &Error{name + " cannot be used", "name a file that is there and may be read", err}
			}
		}
	}
	return options, nil
}

// refused says why there is no connection.
func refused(address string, err error) error {
	switch text := err.Error(); {
	case errors.Is(err, nats.ErrNoServers), errors.Is(err, nats.ErrTimeout), strings.Contains(text, "connection refused"), strings.Contains(text, "no such host"), strings.Contains(text, "i/o timeout"):
		return &Error{"no NATS server answers at " + address, "start one with JetStream (nats-server -js), or check --queue", err}
	case errors.Is(err, nats.ErrAuthorization), errors.Is(err, nats.ErrAuthExpired), errors.Is(err, nats.ErrAuthRevoked), strings.Contains(strings.ToLower(text), "authorization"):
		return &Error{"the NATS server at " + address + " refuses this user", "set NATS_USER and NATS_PASSWORD, NATS_TOKEN, or NATS_CREDS to the path of a credentials file", err}
	case strings.Contains(text, "tls") || strings.Contains(text, "x509") || errors.Is(err, nats.ErrSecureConnWanted):
		return &Error{"no encrypted connection to " + address, "set NATS_CA to the certificate of who signed the server's, and NATS_CERT and NATS_KEY where the server asks for yours", err}
	}
	return &Error{"no connection to " + address, "check --queue", err}
}

// unready says why there is no stream.
func unready(err error) error {
	var known *Error
	switch {
	case errors.As(err, &known):
		return err
	case errors.Is(err, jetstream.ErrJetStreamNotEnabled), errors.Is(err, jetstream.ErrJetStreamNotEnabledForAccount), errors.Is(err, nats.ErrNoResponders):
		return &Error{"the NATS server has no JetStream, which keeps the chunks", "start it with -js, or enable JetStream for this account", err}
	}
	if errors.Is(err, nats.ErrMaxPayload) {
		return &Error{"the NATS server takes too short messages", "raise its max_payload", err}
	}
	return &Error{"the stream " + streamName + " cannot be made or read on the NATS server", "check what this user may do, and the limits of its account", err}
}

// ready makes the stream, or takes the one that is there, whose limits are its owner's affair.
func (q *Queue) ready(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, 2*connect)
	defer cancel()
	s, err := q.js.Stream(ctx, streamName)
	if errors.Is(err, jetstream.ErrStreamNotFound) {
		s, err = q.js.CreateStream(ctx, jetstream.StreamConfig{
			Name: streamName, Description: "chunks of roofs to check", Subjects: []string{chunks + "*"},
			Retention: jetstream.WorkQueuePolicy, Discard: jetstream.DiscardNew, Storage: jetstream.FileStorage, MaxMsgSize: mostMessage, Duplicates: twice,
		})
		if errors.Is(err, jetstream.ErrStreamNameAlreadyInUse) {
			s, err = q.js.Stream(ctx, streamName)
		}
	}
	if err != nil {
		return err
	}
	if c := s.CachedInfo().Config; c.Retention != jetstream.WorkQueuePolicy || len(c.Subjects) != 1 || c.Subjects[0] != chunks+"*" {
		return &Error{"the stream " + streamName + " on the NATS server is none of runnel's", "give it retention workqueue and the one subject " + chunks + "*, or remove it", nil}
	}
	q.stream = s
	return nil
}
