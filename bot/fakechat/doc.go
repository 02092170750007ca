// Package fakechat stands in for chat platforms on loopback, so that the real clients can be
// tested over real HTTP and WebSocket. It is for tests only. It keeps a workspace in memory,
// sends what people do as the platform sends it, answers as the platform answers, and refuses
// what the platform refuses. Its types are written from the platforms' documentation, not
// from the client libraries, so that a mistake of theirs shows.
//
// A conversation test, from a line typed to a button pressed:
//
//	slack, err := fakechat.StartSlack(fakechat.SlackSettings{}) // and slack.Close at the end
//	ana := slack.AddPerson(fakechat.SlackPerson{Name: "ana", TZ: "Europe/Madrid"})
//	luis := slack.AddPerson(fakechat.SlackPerson{Name: "luis"})
//	cure := slack.AddChannel(fakechat.SlackChannel{Name: "cure", Members: []string{ana, luis, fakechat.SlackBot}})
//	// start the client: slack.APIURL(), slack.BotToken(), slack.AppToken()
//	ts := slack.Mention(ana, cure, "", "3.2 kg belly, dry rub, 7 days")
//	err = slack.Until(ctx, func() bool { return len(slack.Thread(cure, ts)) == 2 }) // the root and the card
//	card := slack.Thread(cure, ts)[1]
//	err = slack.Press(luis, cure, card.TS, "Approve") // by the words on it, or its action_id
//	err = slack.Until(ctx, func() bool { p, _ := slack.Post(cure, card.TS); return p.Edited != "" })
//	// slack.Problems() is empty when the client kept to the rules
//
// What people do: Say, Mention, SayRaw, SayAsBot, Share, Edit, Delete, Unfurl, React, Noise,
// Join, Leave, Press, Pick, PressView, Slash, Submit, Dismiss. From Press on they wait for the
// acknowledgement and return ErrNoAck when none comes; the others return at once. A
// call that only a wrong test can make, such as Say in a channel that isn't there, panics.
//
// What a test reads: Posts, Thread, BotPosts and Post with all revisions, Ephemerals, Uploads,
// Views, Calls, Deliveries, Problems, TooFast, Pending, Sockets. Until waits for any of it.
//
// What goes wrong: Break for the next calls of one method, SlackFaults by chance (the n-th call
// of a method and the n-th event meet the same faults in every run of a seed), and Cut,
// Disconnect, Silence, Outage, Frame, Strange, Repeat, Revoke, Archive and Leave at once.
//
// A process under test that is killed and started anew finds the workspace as it was: the
// fake lives in the test's process, and sends again what was not acknowledged.
//
// What the fake leaves out: names of channels instead of ids in calls, scheduled messages,
// Home tabs, bookmarks, organisations of several workspaces. Calls of these are refused with
// unknown_method or channel_not_found.
//
// What nobody documents is marked where it stands, with what it rests on: a reply to a message
// that isn't there, the cut of a text that is too long for chat.update, the total of a
// message's blocks, what is sent again after a gap.
package fakechat
