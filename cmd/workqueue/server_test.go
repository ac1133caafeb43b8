package workqueue_test

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"runnel/cmd/workqueue"
)

// serve starts a server in this process and returns its address.
func serve(t *testing.T, change func(*server.Options)) string {
	t.Helper()
	o := &server.Options{Host: "127.0.0.1", Port: server.RANDOM_PORT, JetStream: true, StoreDir: t.TempDir(), NoSigs: true, NoLog: true}
	if change != nil {
		change(o)
	}
	s, err := server.NewServer(o)
	if err != nil {
		t.Fatal(err)
	}
	s.Start()
	t.Cleanup(func() { s.Shutdown(); s.WaitForShutdown() })
	if !s.ReadyForConnections(10 * time.Second) {
		t.Fatal("the server does not start")
	}
	return s.ClientURL()
}

// silence is long enough for a machine that is busy.
const silence = 3 * time.Second

func open(t *testing.T, url string) (*workqueue.Queue, error) {
	t.Helper()
	q, err := workqueue.Open(t.Context(), url, "test", silence, func(text string) { t.Log(text) })
	if err == nil {
		t.Cleanup(q.Close)
	}
	return q, err
}

func chunk(number int) *workqueue.Chunk {
	return &workqueue.Chunk{Version: "v1", Run: "0123456789abcdef", Folder: "/data/out", Number: number, To: 9}
}

// A server that cannot be used is told with what mends it.
func TestServersThatCannotBeUsed(t *testing.T) {
	silent, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address := silent.Addr().String()
	_ = silent.Close()
	other := func(c jetstream.StreamConfig) func(t *testing.T, url string) {
		return func(t *testing.T, url string) {
			t.Helper()
			js := streams(t, url)
			if _, err := js.CreateStream(t.Context(), c); err != nil {
				t.Fatal(err)
			}
		}
	}
	for what, c := range map[string]struct {
		server func(*server.Options)
		before func(t *testing.T, url string)
		says   string
	}{
		"no JetStream":     {server: func(o *server.Options) { o.JetStream = false }, says: "start it with -js"},
		"a password":       {server: func(o *server.Options) { o.Username, o.Password = "me", "secret" }, says: "set NATS_USER and NATS_PASSWORD"},
		"short messages":   {server: func(o *server.Options) { o.MaxPayload, o.MaxPending = 100, 1000 }, says: "raise its max_payload"},
		"another's stream": {before: other(jetstream.StreamConfig{Name: "RUNNEL", Subjects: []string{"other"}}), says: "give it retention workqueue"},
		"taken subjects":   {before: other(jetstream.StreamConfig{Name: "OTHER", Subjects: []string{"runnel.>"}}), says: "check what this user may do"},
	} {
		url := serve(t, c.server)
		if c.before != nil {
			c.before(t, url)
		}
		_, err := open(t, url)
		var known *workqueue.Error
		if !errors.As(err, &known) || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "secret") {
			t.Errorf("%s: %v, want %q", what, err, c.says)
		}
	}
	if _, err := open(t, "nats://"+address); err == nil || !strings.Contains(err.Error(), "no NATS server answers at nats://"+address) || !strings.Contains(err.Error(), "nats-server -js") {
		t.Errorf("no server: %v", err)
	}
}

func streams(t *testing.T, url string) jetstream.JetStream {
	t.Helper()
	c, err := nats.Connect(url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(c.Close)
	js, err := jetstream.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return js
}

// The environment says who this is.
func TestAccess(t *testing.T) {
	url := serve(t, func(o *server.Options) { o.Username, o.Password = "me", "secret" })
	t.Setenv("NATS_USER", "me")
	t.Setenv("NATS_PASSWORD", "secret")
	if _, err := open(t, url); err != nil {
		t.Error(err)
	}
	t.Setenv("NATS_PASSWORD", "guess")
	if _, err := open(t, url); err == nil || strings.Contains(err.Error(), "guess") {
		t.Error(err)
	}
	t.Setenv("NATS_USER", "")
	token := serve(t, func(o *server.Options) { o.Authorization = "secret" })
	t.Setenv("NATS_TOKEN", "secret")
	if _, err := open(t, token); err != nil {
		t.Error(err)
	}
	for _, name := range []string{"NATS_CREDS", "NATS_CA", "NATS_CERT", "NATS_NKEY"} {
		t.Setenv(name, "/no/such/file")
		if _, err := open(t, token); err == nil || !strings.Contains(err.Error(), name+" cannot be used") {
			t.Errorf("%s: %v", name, err)
		}
		t.Setenv(name, "")
	}
}

// An encrypted connection needs to know who signed the server's certificate, and says so.
func TestEncryption(t *testing.T) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	about := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "test"}, NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, IsCA: true, BasicConstraintsValid: true}
	signed, err := x509.CreateCertificate(rand.Reader, about, about, &key.PublicKey, key)
	if err != nil {
		t.Fatal(err)
	}
	url := serve(t, func(o *server.Options) {
		o.TLS, o.TLSTimeout = true, 10
		o.TLSConfig = &tls.Config{Certificates: []tls.Certificate{{Certificate: [][]byte{signed}, PrivateKey: key}}, MinVersion: tls.VersionTLS12}
	})
	url = "tls://" + url[strings.LastIndex(url, "/")+1:]
	if _, err := open(t, url); err == nil || !strings.Contains(err.Error(), "set NATS_CA") {
		t.Errorf("without: %v", err)
	}
	path := filepath.Join(t.TempDir(), "ca.pem")
	if err := os.WriteFile(path, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: signed}), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("NATS_CA", path)
	if _, err := open(t, url); err != nil {
		t.Errorf("with: %v", err)
	}
	if _, err := open(t, "tls"+strings.TrimPrefix(serve(t, nil), "nats")); err == nil || !strings.Contains(err.Error(), "encrypted") {
		t.Errorf("a server that cannot: %v", err)
	}
}

// A chunk that is put twice is handed out once; one whose worker falls silent or gives it back comes again, one that is done does not.
func TestChunksComeUntilTheyAreDone(t *testing.T) {
	q, err := open(t, serve(t, nil))
	if err != nil {
		t.Fatal(err)
	}
	for _, again := range []int{0, 0} {
		if err := q.Put(t.Context(), chunk(1), again); err != nil {
			t.Fatal(err)
		}
	}
	next := func(wantTimes int) *workqueue.Delivery {
		t.Helper()
		d, err := q.Next(t.Context(), 5*time.Second)
		if err != nil || d.Bad != nil || d.Number != 1 || d.Times != wantTimes {
			t.Fatalf("%+v %v, want it %d times", d, err, wantTimes)
		}
		return d
	}
	next(1).Return(0)
	d := next(2)
	if _, err := q.Next(t.Context(), 2*silence); !errors.Is(err, workqueue.ErrNone) { // it is kept longer than that
		t.Fatalf("it is handed out while it is worked on: %v", err)
	}
	d.Done()
	if _, err := q.Next(t.Context(), 2*time.Second); !errors.Is(err, workqueue.ErrNone) {
		t.Errorf("after it is done: %v", err)
	}
	if left, _, err := q.Left(t.Context(), chunk(1).Run); left != 0 || err != nil {
		t.Errorf("%d left: %v", left, err)
	}
	for n := range 3 {
		if err := q.Put(t.Context(), chunk(n+2), 0); err != nil {
			t.Fatal(err)
		}
	}
	if left, _, _ := q.Left(t.Context(), chunk(1).Run); left != 3 {
		t.Errorf("%d left, want 3", left)
	}
	if err := q.Withdraw(t.Context(), chunk(1).Run); err != nil {
		t.Fatal(err)
	}
	if _, err := q.Next(t.Context(), time.Second); !errors.Is(err, workqueue.ErrNone) {
		t.Errorf("after it was withdrawn: %v", err)
	}
}

// What the server cannot take is told with what mends it.
func TestServersThatTakeLittle(t *testing.T) {
	q, err := open(t, serve(t, func(o *server.Options) { o.MaxPayload, o.MaxPending = 2000, 8000 }))
	if err != nil {
		t.Fatal(err)
	}
	deep := chunk(1)
	deep.Folder = "/" + strings.Repeat("deep/", 500)
	if err := q.Put(t.Context(), deep, 0); err == nil || !strings.Contains(err.Error(), "raise max_payload") || !strings.Contains(err.Error(), "takes 2000") {
		t.Errorf("a small max_payload: %v", err)
	}
	url := serve(t, nil)
	full := jetstream.StreamConfig{Name: "RUNNEL", Subjects: []string{"runnel.chunk.*"}, Retention: jetstream.WorkQueuePolicy, Discard: jetstream.DiscardNew, MaxMsgs: 2}
	if _, err := streams(t, url).CreateStream(t.Context(), full); err != nil {
		t.Fatal(err)
	}
	if q, err = open(t, url); err != nil {
		t.Fatal(err)
	}
	for n, want := range []error{nil, nil, workqueue.ErrFull} {
		if err := q.Put(t.Context(), chunk(n+1), 0); !errors.Is(err, want) {
			t.Errorf("chunk %d: %v, want %v", n+1, err, want)
		}
	}
	d, err := q.Next(t.Context(), time.Second)
	if err != nil {
		t.Fatal(err)
	}
	d.Done()
	for range 50 { // the answer of Done is not waited for
		if err = q.Put(t.Context(), chunk(3), 0); err == nil {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("after one is done: %v", err)
}

// What workers tell comes to the run, and only so much of it.
func TestWhatWorkersTell(t *testing.T) {
	q, err := open(t, serve(t, nil))
	if err != nil {
		t.Fatal(err)
	}
	var got atomic.Value
	if err := q.Listen("0123456789abcdef", func(text string) { got.Store(text) }); err != nil {
		t.Fatal(err)
	}
	q.Tell("0123456789abcdef", strings.Repeat("x", 5000))
	q.Flush()
	for range 100 {
		if text, ok := got.Load().(string); ok {
			if len(text) != 1000 {
				t.Error(fmt.Sprint(len(text)))
			}
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Error("nothing came")
}
