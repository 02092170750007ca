// Package store keeps the records of salthand in one file.
//
// # What is truth
//
// Events are the truth: numbered, appended, never changed. Kitchens, people, batches and all
// indexes follow from them by one fold (fold.go): Tx.Append folds an
// event as it writes it, Store.Verify folds all of them anew and compares. The store decides
// nothing, but the fold refuses what can't have happened, with a *FoldError.
//
// The inbox, the outbox and the open questions are not folded. They are work in hand: messages
// that have not become events yet, cards that the platforms have not been told yet. Messages,
// cards, places and questions are bytes of the caller's.
//
// # Buckets and keys
//
// Numbers and instants in a key are 8 bytes big-endian, instants with the sign bit flipped; a
// text is preceded by its length in 2 bytes; ^ means newest first. "raw" is a text all by
// itself. Before each key stands the byte of its bucket (bucket.go).
//
//	meta       "schema", "scratch", "secret"            4 bytes, 1 byte, 32 bytes
//	events     seq                                      event
//
//	folded from the events:
//	kitchens   kitchen                                  Kitchen
//	people     kitchen person                           Person
//	accounts   kitchen account                          person (raw)
//	names      kitchen name-in-lower-case person        1
//	jars       kitchen name-in-lower-case               Jar
//	lots       kitchen lot-in-lower-case jar filling    1
//	made       kitchen jar filling jar filling          1: the second was made from the first
//	recipes    kitchen name-in-lower-case               Recipe
//	places     kitchen name-in-lower-case               Place
//	batches    kitchen number                           Batch, without the answer and the steps of its card
//	look       kind kitchen value asked number          1     kind: cut + person + ended state, state, held, paused, place,
//	                                                          recipe, version, jar, filling, lot, word; started: a row of totals
//	threads    conversation kitchen number              1: open, 2: ended
//	bound      "team" team, "channel" channel           kitchen (raw)
//	trail      kitchen subject ^seq                     1: an event about it; "kitchen": of no batch
//	due        kitchen at number step                   1: a lapse, 2: the next step, 3: one reminded of, 4: a later one; then its kind
//	rings      at kitchen number step                   1 and 2 as in due
//	           at kitchen number step+1<<32             6: the next to be told of a step; then its kind
//	           at kitchen number step+2<<32             7: the next step, where it is reminded of at another time; then its kind
//	           at kitchen number ^0 what                5: an alarm (number 0: of the kitchen); then what it is for
//
//	in hand:
//	inbox      id (raw)                                 Entry
//	waiting    seq                                      id (raw)
//	done       closed seq                               id (raw)
//	queue      seq                                      Post
//	posts      key (raw)                                what is on show, and the seq that waits
//	refused    n                                        RefusedPost
//	questions  conversation person                      question
//	shown      conversation person                      how far a list was shown
//	codes      'c' name (raw first byte), 't' account   Code; Tries
//
// A record is the byte 'J' and a JSON object that begins with its version, {"v":1,…}; an event
// may be the byte 'D' and such an object deflated. Masses
// are milligrams, concentrations thousandths of mg/kg, temperatures thousandths of a degree
// Celsius, instants milliseconds since 1970 UTC.
//
// # Transactions
//
// Store.Update hands a closure to the one goroutine that writes. What waits there together
// shares one commit; a closure that fails undoes only itself, and its neighbours run again:
// a closure may run several times. Store.View never waits for a writer.
//
// # To let the bot look again at an instant
//
// Append an AlarmSet (of a batch) or a KitchenAlarmSet, under a name for what it is for: it
// stands in the due list from then on, one at most of a name, and goes with the batch's end.
// When it falls due the bot clears it and does what alarm.go there has for that name; what is
// to come again is set again. An alarm that no longer fits needs no clearing: the bot looks
// whether it still does.
//
// # To add a kind of event
//
// Write its type, with explicit JSON names and its kind, and what it does to the record: apply
// (of a batch) or fold (of the kitchen); a subject of its own has a file for all that (jar.go).
// Name it in kind.go. A key that follows from a batch goes into Batch.derived; a body with words
// of people in it says them (word.go); a body that is
// about something else too says what it pointsTo. Add it to the commands of model_test.go. New fields are optional; a field's
// name is never used again for something else. When old bytes would be read wrongly, raise
// recordVersion and read both; when the layout changes, raise schema, convert in Open, and
// leave the old file in testdata/store.
package store
