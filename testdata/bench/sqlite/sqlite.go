package main

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"strings"

	"github.com/go-json-experiment/json"
	_ "modernc.org/sqlite"

	"salthand/store"
)

// tables are what somebody would write who knows the questions: a column for each that is asked
// for, the record beside them, and an index for each column by time.
const tables = `
CREATE TABLE batches (number INTEGER PRIMARY KEY, asked_at INTEGER, cut TEXT, state TEXT, held INTEGER, jar TEXT, lot TEXT, recipe TEXT, record BLOB);
CREATE TABLE hands (person TEXT, asked_at INTEGER, number INTEGER, cut TEXT, PRIMARY KEY (person, asked_at, number)) WITHOUT ROWID;
CREATE TABLE events (seq INTEGER PRIMARY KEY, batch INTEGER, person TEXT, happened INTEGER, kind TEXT, body BLOB);
`

const indexes = `
CREATE INDEX by_time ON batches (asked_at, number);
CREATE INDEX by_cut ON batches (cut, asked_at, number);
CREATE INDEX by_state ON batches (state, asked_at, number);
CREATE INDEX by_cut_state ON batches (cut, state, asked_at, number);
CREATE INDEX by_held ON batches (held, asked_at, number) WHERE held = 1;
CREATE INDEX by_jar ON batches (jar, asked_at, number);
CREATE INDEX by_lot ON batches (lot, asked_at, number);
CREATE INDEX by_recipe ON batches (recipe, asked_at, number);
CREATE INDEX hands_by_cut ON hands (person, cut, asked_at, number);
CREATE INDEX events_by_batch ON events (batch, seq);
ANALYZE;
`

func open(path string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", path)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	if _, err := db.Exec("PRAGMA mmap_size=68719476736; PRAGMA cache_size=-65536"); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

// fill copies all batches and their events.
func fill(ctx context.Context, s *store.Store, path string) (err error) {
	part := path + ".part"
	if err := os.RemoveAll(part); err != nil {
		return err
	}
	db, err := open(part)
	if err != nil {
		return err
	}
	defer func() {
		if err = errors.Join(err, db.Close()); err == nil {
			err = os.Rename(part, path)
		}
	}()
	if _, err := db.ExecContext(ctx, "PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF;"+tables); err != nil {
		return err
	}
	for q := (store.Query{Limit: 1000}); ; {
		more, err := copyPage(ctx, s, db, q)
		if err != nil {
			return err
		}
		if q.After = more; more == "" {
			break
		}
	}
	_, err = db.ExecContext(ctx, indexes)
	return err
}

func copyPage(ctx context.Context, s *store.Store, db *sql.DB, q store.Query) (more string, err error) {
	to, err := db.BeginTx(ctx, nil)
	if err != nil {
		return "", err
	}
	defer func() { _ = to.Rollback() }() // does nothing after the commit
	insert := func(into string, values ...any) error {
		marks := strings.TrimSuffix(strings.Repeat("?,", len(values)), ",")
		_, err := to.ExecContext(ctx, "INSERT INTO "+into+" VALUES ("+marks+")", values...)
		return err
	}
	err = s.View(func(tx *store.Tx) error {
		page, next, err := tx.Batches(kitchen, q)
		if err != nil {
			return err
		}
		more = next
		for _, b := range page {
			record, err := json.Marshal(b)
			if err != nil {
				return err
			}
			err = insert("batches", int64(b.Number), int64(b.AskedAt), b.Card.Cut, string(b.State), b.Held() && b.Open(), b.Card.Jar, b.Card.Lot, b.Card.Recipe, record)
			if err != nil {
				return err
			}
			for _, p := range b.People {
				if err := insert("hands", p, int64(b.AskedAt), int64(b.Number), b.Card.Cut); err != nil {
					return err
				}
			}
			events, err := tx.Events(kitchen, b.Number)
			if err != nil {
				return err
			}
			for _, e := range events {
				body, err := json.Marshal(e.Body)
				if err != nil {
					return err
				}
				if err := insert("events", int64(e.Seq), int64(e.Batch), e.Person, int64(e.Happened), e.Kind(), body); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		return "", err
	}
	return more, to.Commit()
}

// asker is a prepared question.
type asker struct {
	stmt *sql.Stmt
	args []any
}

func prepare(ctx context.Context, db *sql.DB, q store.Query) (*asker, error) {
	from, order := "batches b", "b.asked_at DESC, b.number DESC"
	var where []string
	var args []any
	and := func(clause string, arg any) { where, args = append(where, clause), append(args, arg) }
	if q.Person != "" {
		from, order = "hands h JOIN batches b ON b.number = h.number", "h.asked_at DESC, h.number DESC"
		and("h.person = ?", q.Person)
	}
	switch {
	case q.Cut != "" && q.Person != "":
		and("h.cut = ?", q.Cut)
	case q.Cut != "":
		and("b.cut = ?", q.Cut)
	}
	for column, value := range map[string]string{"b.state": string(q.State), "b.jar": q.Jar, "b.lot": q.Lot, "b.recipe": q.Recipe} {
		if value != "" {
			and(column+" = ?", value)
		}
	}
	if q.Held {
		where = append(where, "b.held = 1")
	}
	at := "b.asked_at"
	if q.Person != "" {
		at = "h.asked_at"
	}
	if q.From != 0 {
		and(at+" >= ?", int64(q.From))
	}
	if q.To != 0 {
		and(at+" < ?", int64(q.To))
	}
	text := "SELECT b.record FROM " + from
	if len(where) > 0 {
		text += " WHERE " + strings.Join(where, " AND ")
	}
	stmt, err := db.PrepareContext(ctx, text+" ORDER BY "+order+" LIMIT ?")
	return &asker{stmt, append(args, q.Limit)}, err
}

// ask reads the records too, as the store does.
func (a *asker) ask(ctx context.Context) (numbers []uint64, err error) {
	rows, err := a.stmt.QueryContext(ctx, a.args...)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		var record sql.RawBytes
		if err := rows.Scan(&record); err != nil {
			return nil, err
		}
		var b store.Batch
		if err := json.Unmarshal(record, &b); err != nil {
			return nil, err
		}
		numbers = append(numbers, b.Number)
	}
	return numbers, rows.Err()
}

func (a *asker) close() { _ = a.stmt.Close() }
