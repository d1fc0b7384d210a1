import { controlsFollowServer } from "./behavior/controls.ts";
import { openDefinitionsOnHover } from "./behavior/definitions.ts";
import { focusAfterChange } from "./behavior/focus.ts";
import { leaveOwnSubmits } from "./behavior/own-submits.ts";

openDefinitionsOnHover();
controlsFollowServer();
focusAfterChange();
leaveOwnSubmits();
