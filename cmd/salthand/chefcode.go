package main

import (
	"context"
	"fmt"
	"io"

	"salthand/bot"
)

// tellChefCode prints, where the bot is started, the code that makes the first chef. It prints
// nothing where there is a chef, or where all chats are the terminal: who sits there is asked.
// The code is shown once and kept nowhere; each start makes another.
func tellChefCode(ctx context.Context, out io.Writer, b *bot.Bot) error {
	for _, chat := range b.Chats {
		if chat.Platform() == bot.Terminal {
			continue
		}
		code, ok, err := b.ChefCode(ctx)
		if err != nil || !ok {
			return err
		}
		_, err = fmt.Fprintf(out, "There is no chef yet. The chef types this to the bot, in a direct message:\n\n    join %s\n\nIt is good once, for 24 hours. Show it to nobody else.\n", code)
		return err
	}
	return nil
}
