package store

// reader reads records by key. What get returns is good until the transaction ends.
type reader interface {
	get(bucket string, k key) []byte // nil: not there
}

// records is all that the fold needs.
type records interface {
	reader
	put(bucket string, k key, v []byte) error // v is never empty
	del(bucket string, k key) error
}

// buckets is what the engine gives: named buckets of ordered keys.
type buckets interface {
	records
	// next is the next number of a bucket, from 1; it belongs to the transaction.
	next(bucket string) (uint64, error)
	// last is the number that next gave last; 0: none yet.
	last(bucket string) uint64
	// seek gives the first key that is not before from; nil: none.
	seek(bucket string, from key) (key, []byte)
	// scan walks the keys from one on, as long as they have the prefix and fn wants more.
	// fn must not write.
	scan(bucket string, from, prefix key, fn func(k key, v []byte) (more bool, err error)) error
}

// The buckets. Keys are written as in doc.go.
const (
	bucketMeta   = "meta"
	bucketEvents = "events"

	bucketKitchens = "kitchens"
	bucketPeople   = "people"
	bucketAccounts = "accounts"
	bucketNames    = "names"
	bucketBatches  = "batches"
	bucketHistory  = "history"
	bucketLook     = "look"
	bucketThreads  = "threads"
	bucketDue      = "due"
	bucketDueIn    = "duein"

	bucketInbox     = "inbox"
	bucketWaiting   = "waiting"
	bucketDone      = "done"
	bucketQueue     = "queue"
	bucketPosts     = "posts"
	bucketRefused   = "refused"
	bucketQuestions = "questions"
)

// foldedBuckets hold only what the fold wrote: Verify can make them anew.
var foldedBuckets = []string{
	bucketKitchens, bucketPeople, bucketAccounts, bucketNames, bucketBatches,
	bucketHistory, bucketLook, bucketThreads, bucketDue, bucketDueIn,
}

var allBuckets = append([]string{
	bucketMeta, bucketEvents, bucketInbox, bucketWaiting, bucketDone,
	bucketQueue, bucketPosts, bucketRefused, bucketQuestions,
}, foldedBuckets...)

// present is the value of a key that says all by itself.
var present = []byte{1}
