// Command salthand answers curing questions with exact doses and keeps a kitchen's batches.
//
//	salthand                  chat at the terminal, on the store in the user's data folder
//	salthand --scratch        the same on a throw-away store
//	salthand serve            serve the kitchen's team chat
//	salthand slack check      say what the Slack app still lacks
//	salthand ask "PHRASE"     answer one phrase; --json for machines
//	salthand verify           fold every record anew from the events and compare
//
// Exit status: 0 answered, 1 anything that is not about the phrase, 2 asked back or not
// understood, 3 a dose refused.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	err := run(ctx, os.Args[1:], here())
	stop()
	os.Exit(status(err))
}
