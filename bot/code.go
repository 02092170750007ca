package bot

import (
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"fmt"
	"strings"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// What a one-time code proves.
const (
	forPerson = "person" // that two accounts are one person's
	forTeam   = "team"   // that a chef joins a team to the kitchen
	forChef   = "chef"   // that somebody was where the bot was started
)

// How long codes live, and how many wrong tries they bear.
const (
	codeLives     = 15 * time.Minute
	chefCodeLives = 24 * time.Hour // whoever installs the bot may have to ask somebody in
	wrongAtMost   = 5
)

// codeLetters leave out what is read as another: I, L, O and U.
const codeLetters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// codeMark stands in a card for a code, which the sender puts in: the outbox never has one.
const codeMark = "⟨code⟩"

// codeFrom is the code that a seed makes with a secret: "K7Q-M2X-RTB", 45 bits. The first
// group tells which code is tried, so that wrong tries of one don't use up another.
func codeFrom(secret []byte, seed string) string {
	sum := mac(secret, "code", seed)
	var b strings.Builder
	for i := range 9 {
		if i == 3 || i == 6 {
			b.WriteByte('-')
		}
		b.WriteByte(codeLetters[sum[i]%32])
	}
	return b.String()
}

// typedCode is a code as a message carries it: what it is found by, and what it is known again by.
type typedCode struct {
	Name string `json:"name"`
	Hash []byte `json:"hash"`
}

// sealed takes a code out of what was typed, so that it is not kept.
func sealed(secret []byte, code string) *typedCode {
	name, _, _ := strings.Cut(code, "-")
	return &typedCode{Name: name, Hash: mac(secret, "hash", code)}
}

func mac(secret []byte, of, text string) []byte {
	h := hmac.New(sha256.New, secret)
	h.Write([]byte(of + "\n" + text))
	return h.Sum(nil)
}

// fillCode puts the code of a seed in the place of its mark.
func (c *Card) fillCode(secret []byte) {
	code := codeFrom(secret, c.Code)
	put := func(s *string) { *s = strings.ReplaceAll(*s, codeMark, code) }
	for ; c != nil; c = c.Also {
		put(&c.Title)
		put(&c.Next)
		for i := range c.Lines {
			put(&c.Lines[i])
		}
	}
}

// secret is what codes are made with. The file gets one when the bot first starts on it.
func (b *Bot) secret() (secret []byte, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		secret = tx.Secret()
		return nil
	})
	return secret, err
}

// keepSecret gives the store its secret where it has none.
func (b *Bot) keepSecret(ctx context.Context) error {
	secret, err := b.secret()
	if err != nil || secret != nil {
		return err
	}
	fresh := make([]byte, 32)
	if _, err := rand.Read(fresh); err != nil {
		return fmt.Errorf("making the secret of the store: %w", err)
	}
	return b.Store.Update(ctx, func(tx *store.Tx) error { return tx.KeepSecret(fresh) })
}

// ChefCode makes a code that proves that somebody was where the bot was started: typed to the
// bot in a direct message it makes them the first chef. It lives for a day, once. It is for
// the caller to print, and to keep nowhere. ok is false where there is a chef already.
func (b *Bot) ChefCode(ctx context.Context) (code string, ok bool, err error) {
	if err := b.keepSecret(ctx); err != nil {
		return "", false, err
	}
	seed := rand.Text()
	err = b.Store.Update(ctx, func(tx *store.Tx) error {
		code, ok = "", false
		chefs, err := chefsOf(tx, homeKitchen)
		if err != nil || len(chefs) > 0 {
			return err
		}
		secret := tx.Secret()
		code, ok = codeFrom(secret, seed), true
		typed := sealed(secret, code)
		now := milli(b.Now())
		return tx.KeepCode(typed.Name, store.Code{Hash: typed.Hash, For: forChef, Kitchen: homeKitchen, Until: now + store.Milli(chefCodeLives.Milliseconds())}, now)
	})
	return code, ok, err
}

// giveCode answers "join" with a code, in private.
func (t *turn) giveCode(c grammar.Join) error {
	l := t.theirs
	if !t.m.Direct && t.m.Account.Platform != Terminal {
		return t.note(l.say("A code is for you alone."), l.say("Type the same line to me in a direct message."))
	}
	secret, what := t.tx.Secret(), forPerson
	if c.Team {
		what = forTeam
	}
	if secret == nil {
		return fmt.Errorf("bot: the store has no secret")
	}
	var seed string
	var typed *typedCode
	for n := 0; ; n++ { // until its first group is no other's
		seed = fmt.Sprintf("%s#%d", t.entry.ID, n)
		typed = sealed(secret, codeFrom(secret, seed))
		old, taken, err := t.tx.Code(typed.Name)
		if err != nil {
			return err
		}
		if !taken || old.Until <= t.now {
			break
		}
	}
	code := store.Code{Hash: typed.Hash, For: what, Kitchen: t.kitchen.ID, Person: t.person.ID, Until: t.now + store.Milli(codeLives.Milliseconds())}
	if err := t.tx.KeepCode(typed.Name, code, t.now); err != nil {
		return err
	}
	card := Card{Kind: NoteCard, Code: seed, Title: l.say("Your code:  join %s", codeMark),
		Lines: []string{l.say("Good once, for 15 minutes. Give it to nobody: whoever types it acts as you from then on.")},
		Next:  l.say("Type that line to me in a direct message, from your other account.")}
	if c.Team {
		card.Lines[0] = l.say("Good once, for 15 minutes. It joins a whole team to this kitchen, and the account that types it to you.")
		card.Next = l.say("Type that line to me in a direct message, in the other team.")
	}
	return t.post(card)
}

// codeTyped is the code that a message carries, if it is good: it is used up then. Otherwise
// the answer is posted, and ok is false.
func (t *turn) codeTyped() (c store.Code, ok bool, err error) {
	l, typed, account := t.theirs, t.m.Code, t.m.Account.String()
	tries, err := t.tx.CodeTries(account)
	if err != nil {
		return c, false, err
	}
	if (t.now - tries.Since).Duration() >= codeLives {
		tries = store.Tries{Since: t.now}
	}
	if tries.Wrong >= wrongAtMost {
		return c, false, t.note(l.say("That was wrong five times. Wait a quarter of an hour, then ask for a new code."))
	}
	c, known, err := t.tx.Code(typed.Name)
	if err != nil {
		return c, false, err
	}
	switch {
	case known && c.Until > t.now && hmac.Equal(c.Hash, typed.Hash):
		return c, true, t.tx.DropCode(typed.Name)
	case known:
		if c.Wrong++; c.Wrong >= wrongAtMost || c.Until <= t.now {
			err = t.tx.DropCode(typed.Name)
		} else {
			err = t.tx.KeepCode(typed.Name, c, t.now)
		}
		if err != nil {
			return c, false, err
		}
	}
	tries.Wrong++
	if err := t.tx.KeepCodeTries(account, tries); err != nil {
		return c, false, err
	}
	return c, false, t.note(l.say("That code is not good: mistyped, used, or older than 15 minutes."), l.say("Type  join  from the other account for a new one."))
}
