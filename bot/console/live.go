package console

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"

	"github.com/peterh/liner"

	"salthand/bot"
)

// Live talks with a person at a terminal. Besides what the bot understands, a line may be
//
//	as NAME          speak as somebody else
//	at 3             speak in the thread of batch 3;  at channel  goes back
//	send FILE: TEXT  say something with a file:  send label.jpg: jar A7 label
//	quit             leave; Ctrl-C and Ctrl-D do too
type Live struct {
	Console *Console
	Bot     *bot.Bot
	Name    string // who speaks at first
	History string // file that keeps what was typed; "" keeps nothing

	line  *liner.State
	place bot.Place
	batch uint64 // whose thread place is; 0: the channel
}

// Open takes over the terminal. Close gives it back.
func (l *Live) Open() {
	l.line = liner.NewLiner()
	l.line.SetCtrlCAborts(true)
	l.line.SetCompleter(complete)
	l.place = Place()
	if f, err := os.Open(l.History); err == nil {
		l.line.ReadHistory(f) // a history that can't be read is none
		f.Close()
	}
}

// Close gives the terminal back and keeps the history.
func (l *Live) Close() error {
	err := l.line.Close()
	if l.History == "" {
		return err
	}
	f, openErr := os.OpenFile(l.History, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o600)
	if openErr != nil {
		return errors.Join(err, openErr)
	}
	_, writeErr := l.line.WriteHistory(f)
	return errors.Join(err, writeErr, f.Close())
}

// Question asks the person at the terminal one thing; Enter takes what stands in brackets.
// It returns io.EOF where the person leaves instead.
func (l *Live) Question(text, usual string) (string, error) {
	answer, err := l.line.Prompt(fmt.Sprintf("%s [%s] ", text, usual))
	if errors.Is(err, liner.ErrPromptAborted) {
		return "", io.EOF
	}
	if answer = strings.TrimSpace(answer); answer == "" {
		answer = usual
	}
	return answer, err
}

// Talk reads lines until the person leaves or ctx ends. The bot must be running.
func (l *Live) Talk(ctx context.Context) error {
	for ctx.Err() == nil {
		l.Console.prompting(l.prompt())
		text, err := l.line.Prompt(l.prompt())
		l.Console.prompting("")
		if errors.Is(err, liner.ErrPromptAborted) || errors.Is(err, io.EOF) {
			fmt.Fprintln(l.Console.Out)
			return nil
		}
		if err != nil {
			return fmt.Errorf("reading the terminal: %w", err)
		}
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		l.line.AppendHistory(text)
		if text == "quit" || text == "exit" {
			return nil
		}
		if !l.own(text) {
			if err := l.say(ctx, text); err != nil {
				return err
			}
		}
	}
	return nil
}

func (l *Live) prompt() string {
	if l.batch != 0 {
		return fmt.Sprintf("%s in %d> ", l.Name, l.batch)
	}
	return l.Name + "> "
}

// own takes the lines that are about the terminal itself.
func (l *Live) own(text string) bool {
	word, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimSpace(rest)
	switch {
	case word == "as" && rest != "" && !strings.Contains(rest, " "):
		l.Name = rest
	case text == "at channel" || text == "at 0":
		l.place, l.batch = Place(), 0
	case word == "at":
		n, err := strconv.ParseUint(rest, 10, 64)
		if err != nil {
			return false
		}
		place, err := threadOf(l.Bot, n)
		if err != nil {
			fmt.Fprintln(l.Console.Out, "·  "+err.Error())
			return true
		}
		l.place, l.batch = place, n
	default:
		return false
	}
	return true
}

// say hands a line to the bot. The terminal is alone with the bot, so that every line is
// meant for it.
func (l *Live) say(ctx context.Context, text string) error {
	file, text := fileOf(text)
	m := l.Console.message(l.Name, text, l.place, l.Bot.Now())
	m.Files = file
	mention(&m)
	m.Mentioned = true
	reply, err := l.Bot.Receive(ctx, m)
	if reply.Text != "" {
		fmt.Fprintln(l.Console.Out, reply.Text)
	}
	if err != nil {
		return err
	}
	return l.Bot.Settle(ctx)
}

// sends is a line that goes with a file.
var sends = regexp.MustCompile(`^send (.+?): +(.+)$`)

// fileOf takes the file off a line that goes with one.
func fileOf(text string) ([]bot.Attached, string) {
	p := sends.FindStringSubmatch(text)
	if p == nil {
		return nil, text
	}
	return []bot.Attached{dropped(strings.TrimSpace(p[1]))}, p[2]
}

// complete offers what the end of a line may become: the last clause as a whole, else its
// last words, the longest beginning first.
func complete(line string) (lines []string) {
	clause := strings.LastIndex(line, ",") + 1
	for i := clause; i < len(line) && lines == nil; i++ {
		if i > clause && line[i-1] != ' ' || line[i] == ' ' {
			continue
		}
		for _, w := range bot.Words() {
			if strings.HasPrefix(w, strings.ToLower(line[i:])) {
				lines = append(lines, line[:i]+w)
			}
		}
	}
	return lines
}
