package store

// reader reads records by key. What get returns is good until the transaction ends.
type reader interface {
	get(in bucket, k key) []byte // nil: not there
}

// records is all that the fold needs.
type records interface {
	reader
	put(in bucket, k key, v []byte) error // v is never empty
	del(in bucket, k key) error
}

// buckets is what the engine gives: named buckets of ordered keys.
type buckets interface {
	records
	// next is the next number of a bucket, from 1; it belongs to the transaction.
	next(in bucket) (uint64, error)
	// last is the number that next gave last; 0: none yet.
	last(in bucket) uint64
	// seek gives the first key that is not before from; nil: none.
	seek(in bucket, from key) (key, []byte)
	// cursor goes to and fro among the keys of a bucket, as long as nothing is written.
	cursor(in bucket) cursor
	// scan walks the keys from one on, as long as they have the prefix and fn wants more.
	// fn must not write.
	scan(in bucket, from, prefix key, fn func(k key, v []byte) (more bool, err error)) error
}

// cursor stands at a key of a bucket. What it gives is good until the transaction ends.
type cursor interface {
	seek(from key) (key, []byte)     // the first key that is not before from; nil: none
	seekBack(from key) (key, []byte) // the last key that is not after from; nil: none
	next() (key, []byte)             // the one after where it stands; nil: none
	prev() (key, []byte)             // the one before it; nil: none
}

// bucket is one kind of key. All share one tree, each behind its own byte; those that are
// small and often written stand together, so that they share a page, and a commit writes few.
type bucket byte

// The buckets. Their keys are written down in doc.go. A byte once given is kept.
const (
	bucketMeta      bucket = 0x10
	bucketSequence  bucket = 0x11 // of the engine: what next gave last, by bucket
	bucketKitchens  bucket = 0x12
	bucketWaiting   bucket = 0x13
	bucketQueue     bucket = 0x14
	bucketQuestions bucket = 0x15
	bucketAccounts  bucket = 0x16
	bucketPeople    bucket = 0x17
	bucketNames     bucket = 0x18
	bucketBound     bucket = 0x1e
	bucketCodes     bucket = 0x1f
	bucketRecipes   bucket = 0x1d
	bucketJars      bucket = 0x19
	bucketLots      bucket = 0x1a
	bucketMade      bucket = 0x1b
	bucketPlaces    bucket = 0x1c

	bucketDue     bucket = 0x20
	bucketThreads bucket = 0x21
	bucketLook    bucket = 0x22
	bucketTrail   bucket = 0x23
	bucketRings   bucket = 0x24
	bucketShown   bucket = 0x2f

	bucketInbox   bucket = 0x30
	bucketDone    bucket = 0x31
	bucketPosts   bucket = 0x32
	bucketRefused bucket = 0x33

	bucketBatches bucket = 0x40
	bucketEvents  bucket = 0x41
)

// foldedBuckets hold only what the fold wrote: Verify can make them anew.
var foldedBuckets = []bucket{
	bucketKitchens, bucketPeople, bucketAccounts, bucketNames, bucketBatches, bucketLook, bucketThreads, bucketDue, bucketTrail, bucketRings,
	bucketRecipes,
	bucketJars, bucketLots, bucketMade, bucketPlaces,
	bucketBound,
}

// names are for people who read what Verify found.
var names = map[bucket]string{
	bucketMeta: "meta", bucketSequence: "sequence", bucketKitchens: "kitchens", bucketWaiting: "waiting", bucketQueue: "queue",
	bucketQuestions: "questions", bucketAccounts: "accounts", bucketPeople: "people", bucketNames: "names", bucketDue: "due",
	bucketThreads: "threads", bucketTrail: "trail", bucketRings: "rings", bucketLook: "look", bucketInbox: "inbox", bucketDone: "done",
	bucketPosts: "posts", bucketRefused: "refused", bucketBatches: "batches", bucketEvents: "events",
	bucketRecipes: "recipes", bucketPlaces: "places",
	bucketJars: "jars", bucketLots: "lots", bucketMade: "made",
	bucketBound: "bound", bucketCodes: "codes", bucketShown: "shown",
}

func (b bucket) String() string { return names[b] }

// present is the value of a key that says all by itself.
var present = []byte{1}
