package workqueue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"sync"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
)

// What passes with time.
var (
	ErrFull = errors.New("the queue is full") // until a worker has taken something away
	ErrNone = errors.New("there is no work")
)

// Codes of the server for a stream that is full.
const (
	noResources  jetstream.ErrorCode = 10023
	noStorage    jetstream.ErrorCode = 10047
	noMemory     jetstream.ErrorCode = 10028
	storeFailed  jetstream.ErrorCode = 10077 // with what failed
	tooLong      jetstream.ErrorCode = 10054
	noneForUsers jetstream.ErrorCode = 10002 // of an account
)

// Put hands out a chunk; again counts how often that was done before. The error is ErrFull, one that passes with time, or an *Error.
func (q *Queue) Put(ctx context.Context, c *Chunk, again int) error {
	text, err := json.Marshal(c)
	if err != nil {
		return err
	}
	if most := q.net.MaxPayload(); int64(len(text)) > most || len(text) > mostMessage {
		return &Error{fmt.Sprintf("the message of a chunk has %d bytes, and the NATS server takes %d", len(text), min(most, mostMessage)), "raise max_payload of the server, or write into a folder with a shorter path", nil}
	}
	ctx, cancel := context.WithTimeout(ctx, connect)
	defer cancel()
	_, err = q.js.Publish(ctx, chunks+c.Run, text, jetstream.WithMsgID(c.id(again)))
	var said *jetstream.APIError
	if errors.As(err, &said) {
		switch said.ErrorCode { //nolint:exhaustive // all others come out as they are
		case noResources, noStorage, noMemory, storeFailed, noneForUsers:
			return fmt.Errorf("%w (%s)", ErrFull, said.Description)
		case tooLong:
			return &Error{fmt.Sprintf("the message of a chunk has %d bytes, more than the stream %s takes", len(text), streamName), "raise the stream's greatest size of a message, or remove the stream", nil}
		}
	}
	if errors.Is(err, nats.ErrMaxPayload) {
		return &Error{"the message of a chunk is longer than the NATS server takes", "raise max_payload of the server", err}
	}
	return err
}

// Left says how many chunks of a run the server still has, and whether anybody asks for work or has some.
func (q *Queue) Left(ctx context.Context, run string) (left int, workers bool, err error) {
	ctx, cancel := context.WithTimeout(ctx, connect)
	defer cancel()
	info, err := q.stream.Info(ctx, jetstream.WithSubjectFilter(chunks+run))
	if errors.Is(err, jetstream.ErrStreamNotFound) {
		return 0, false, q.ready(ctx) // the server came back without what it had
	}
	if err != nil {
		return 0, false, err
	}
	left = int(info.State.Subjects[chunks+run]) //nolint:gosec // a count
	c, err := q.js.Consumer(ctx, streamName, consumerName)
	if errors.Is(err, jetstream.ErrConsumerNotFound) {
		return left, false, nil
	}
	if err != nil {
		return left, false, err
	}
	i := c.CachedInfo()
	return left, i.NumWaiting > 0 || i.NumAckPending > 0, nil
}

// Withdraw takes back what nobody has done yet of a run.
func (q *Queue) Withdraw(ctx context.Context, run string) error {
	ctx, cancel := context.WithTimeout(ctx, connect)
	defer cancel()
	return q.stream.Purge(ctx, jetstream.WithPurgeSubject(chunks+run))
}

// Listen hands to take what workers tell of a run.
func (q *Queue) Listen(run string, take func(string)) error {
	_, err := q.net.Subscribe(notes+run, func(m *nats.Msg) {
		if len(m.Data) <= mostNote {
			take(string(m.Data))
		}
	})
	return err
}

// mostNote is the longest text that workers tell [bytes].
const mostNote = 1000

// Tell says something to who has called the run.
func (q *Queue) Tell(run, text string) {
	_ = q.net.Publish(notes+run, []byte(text[:min(len(text), mostNote)]))
}

// Flush brings what was said to the server.
func (q *Queue) Flush() { _ = q.net.FlushTimeout(connect) }

// Delivery is a chunk that this worker has for a while.
type Delivery struct {
	Chunk
	Bad   error // why it is no chunk; then Drop it
	Times int   // that it was handed out, this one too

	message jetstream.Msg
	silence time.Duration
	once    sync.Once
	end     chan struct{}
}

// stop ends keep. A signal may answer for a chunk while it is being answered for.
func (d *Delivery) stop() { d.once.Do(func() { close(d.end) }) }

// Next waits up to patience for a chunk; the error is ErrNone where none came, or another that passes with time.
func (q *Queue) Next(ctx context.Context, patience time.Duration) (*Delivery, error) {
	if q.consumer == nil {
		if err := q.consume(ctx); err != nil {
			return nil, err
		}
	}
	got, err := q.consumer.Fetch(1, jetstream.FetchMaxWait(patience))
	if err != nil {
		q.consumer = nil
		return nil, err
	}
	if m, ok := <-got.Messages(); ok {
		d := &Delivery{message: m, silence: q.silence, end: make(chan struct{}), Times: 1}
		if info, err := m.Metadata(); err == nil {
			d.Times = int(info.NumDelivered) //nolint:gosec // a count
		}
		d.Chunk, d.Bad = ParseChunk(m.Data())
		go d.keep()
		return d, nil
	}
	if err := got.Error(); err != nil && !errors.Is(err, nats.ErrTimeout) {
		q.consumer = nil // it may have gone with the server
		return nil, err
	}
	return nil, ErrNone
}

// consume makes the consumer that all workers share.
func (q *Queue) consume(ctx context.Context) error {
	if err := q.ready(ctx); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, connect)
	defer cancel()
	c, err := q.js.CreateOrUpdateConsumer(ctx, streamName, jetstream.ConsumerConfig{
		Durable: consumerName, AckPolicy: jetstream.AckExplicitPolicy, AckWait: q.silence, MaxDeliver: -1, MaxAckPending: -1, FilterSubject: chunks + "*",
	})
	q.consumer = c
	if err != nil {
		q.consumer = nil
	}
	return err
}

// keep says again and again that the chunk is being worked on.
func (d *Delivery) keep() {
	tick := time.NewTicker(d.silence / 3)
	defer tick.Stop()
	for {
		select {
		case <-d.end:
			return
		case <-tick.C:
			_ = d.message.InProgress()
		}
	}
}

// Done says that the results of the chunk are in their place. Where that does not reach the server, the chunk is handed out again,
// and whoever gets it finds them there.
func (d *Delivery) Done() {
	d.stop()
	_ = d.message.Ack()
}

// Drop says that nobody needs the chunk, or can do it.
func (d *Delivery) Drop() {
	d.stop()
	_ = d.message.Term()
}

// Return gives the chunk to another worker, after a while.
func (d *Delivery) Return(after time.Duration) {
	d.stop()
	if after == 0 {
		_ = d.message.Nak()
		return
	}
	_ = d.message.NakWithDelay(after)
}
