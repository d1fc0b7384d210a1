import { followAnswer } from "./behavior/answer-line.ts";
import { controlsFollowServer } from "./behavior/controls.ts";
import { openDefinitionsOnHover } from "./behavior/definitions.ts";
import { editsAreOneStep } from "./behavior/edits.ts";
import { focusAfterChange } from "./behavior/focus.ts";
import { unfoldQuestion } from "./behavior/fold.ts";
import { keepLastAnswer } from "./behavior/last-answer.ts";
import { closeMenus } from "./behavior/menu.ts";
import { leaveOwnSubmits } from "./behavior/own-submits.ts";

openDefinitionsOnHover();
keepLastAnswer();
controlsFollowServer();
focusAfterChange();
leaveOwnSubmits();
editsAreOneStep();
unfoldQuestion();
followAnswer();
closeMenus();
