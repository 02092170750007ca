package fakechat

import "time"

// Times of the platform.
// Source: docs.slack.dev/apis/events-api (retries), /interactivity/handling-user-interaction.
const (
	ackWithin   = 3 * time.Second
	triggerLife = 3 * time.Second
	replyLife   = 30 * time.Minute
	replyUses   = 5
)

// Socket Mode.
// Source: docs.slack.dev/apis/events-api/using-socket-mode (connections); the closing reason
// "Max frame length of 20480 has been exceeded" as users of several clients report it.
const (
	maxFrame   = 20480
	maxSockets = 10
	closeBig   = 1009
)

// Calls a minute of each tier. Source: docs.slack.dev/apis/web-api/rate-limits.
const (
	tier1 = 1
	tier2 = 20
	tier3 = 50
	tier4 = 100
)

// Texts of a message.
// Source: docs.slack.dev/reference/methods/chat.postMessage ("truncating content"),
// chat.update ("msg_too_long": from memory), and the reports of msg_blocks_too_long, which
// no page states.
const (
	maxText       = 40000
	maxUpdateText = 4000
	maxBlockText  = 13200
)

// Block Kit. Source: docs.slack.dev/reference/block-kit/blocks, /block-elements and
// /composition-objects, each object's page.
const (
	maxBlocks      = 50
	maxViewBlocks  = 100
	maxBlockID     = 255
	maxSection     = 3000
	maxFields      = 10
	maxField       = 2000
	maxHeader      = 150
	maxContext     = 10
	maxActions     = 25
	maxMarkdown    = 12000 // of all markdown blocks together
	maxActionID    = 255
	maxButtonText  = 75
	maxButtonValue = 2000
	maxURL         = 3000
	maxAlt         = 2000
	maxImageTitle  = 2000
	maxPlaceholder = 150
	maxOptions     = 100
	minOverflow    = 2
	maxOverflow    = 5
	maxOptionText  = 75
	maxOptionValue = 150
	maxInputLabel  = 2000
	maxInputHint   = 2000
	maxInputLength = 3000 // of what is typed into a plain text input
	maxChoices     = 10   // of checkboxes and radio buttons
	maxConfirmHead = 100
	maxConfirmText = 300
	maxConfirmWord = 30
	maxTableRows   = 100
	maxTableCells  = 20 // in a row
)

// Views. Source: docs.slack.dev/reference/views/modal-views.
const (
	maxViewTitle   = 24
	maxViewSubmit  = 24
	maxViewClose   = 24
	maxPrivateMeta = 3000
	maxCallbackID  = 255
	maxViewStack   = 3
)

// Pages of lists. Source: docs.slack.dev/reference/methods/conversations.history and its
// neighbours.
const (
	usualPage = 100
	maxPage   = 999
)
