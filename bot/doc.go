// Package bot is the way of a message: a person types a line, the bot answers with cards and
// keeps the batches.
//
// One message goes through the files in this order:
//
//   - message.go: what an adapter hands in; chat.go: what an adapter is;
//   - bot.go: Receive keeps a message that is for the bot, and converse takes the messages of
//     one conversation in order;
//   - address.go: the table of what is for the bot;
//   - turn.go: one command against one state, in one transaction of the store;
//   - answer.go, dose.go, dosecard.go: a dose phrase becomes a card and a numbered batch;
//     refuse.go: or a stop, or a question back (question.go);
//   - batch.go, step.go: approve, start, turned, done …; kitchen.go: settings; look.go: look back;
//   - told.go and told_*.go: a line in free words becomes a hold or a few figures;
//   - amend.go, edit.go, undo.go: what was asked or said is changed, taken back, undone;
//   - send.go: the only place that posts; watch.go: the due list.
//
// Words for people are in dosecard.go, refuse.go, help.go, words.go and names.go, said through
// tongue.go and the catalogues in po; figures are printed by figure.go. machine.go is the
// machine answer. A turn is deterministic in the state and the inbox entry, since it may run
// several times: nothing in it looks at the clock, logs or sends.
package bot
