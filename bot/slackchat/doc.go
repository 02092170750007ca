// Package slackchat is Slack as a chat: its events become messages of the bot, and cards
// become messages of Slack.
//
// An event goes through the files in this order:
//
//   - run.go: the connection (Socket Mode), kept up, paced and ended; lane.go: events wait in
//     order, are given to the bot, and only then acknowledged;
//   - read.go, token.go: an event as a message; people.go: who people are;
//   - reply.go, form.go: what is answered at once: a form, a private hint;
//   - missed.go: what was said while no connection stood is read from the channels;
//   - layout.go, button.go, text.go: a card as blocks; limits.go: what the platform takes;
//   - post.go, find.go, upload.go: cards are posted, found again, brought up to date;
//   - wire.go, fault.go: calls and what goes wrong with them, without a token in any word;
//   - check.go, manifest.go: what the app needs, and whether it has it.
//
// Nothing here knows anything of curing, and nothing that must last is kept here.
package slackchat
