package slackchat

import "time"

// The limits of the platform. Source, where none is named: docs.slack.dev, reference of Block
// Kit (blocks, composition objects, views), seen second-hand.
const (
	blocksAtMost  = 50   // in a message
	headerAtMost  = 150  // characters of a header
	sectionAtMost = 3000 // characters of a section's text
	contextAtMost = 2000 // characters of a text in a context: from memory
	buttonsAtMost = 25   // in an actions block
	labelAtMost   = 75   // characters of a button's label

	titleAtMost    = 24   // characters of a view's title, and of the labels of its buttons
	inputLabelMost = 2000 // characters of the label and of the hint of an input
	inputAtMost    = 3000 // characters that an input takes

	// messageAtMost is the characters of all blocks of a message. None is documented; about
	// 13,200 are taken (slackapi/bolt-js issue 2509). The rest is room for what is not counted here.
	messageAtMost = 10_000

	// ackAtMost is the bytes of an acknowledgement: from 20,480 on the socket is closed
	// (slack-go/slack issue 1196).
	ackAtMost = 20_480

	// ackWithin is the time that an event may wait for its acknowledgement
	// (docs.slack.dev, "Using Socket Mode", seen second-hand).
	ackWithin = 3 * time.Second

	// postEvery is the shortest time between two posts to a channel
	// (docs.slack.dev, "Rate limits": chat.postMessage, one a second a channel, seen second-hand).
	postEvery = time.Second
)
