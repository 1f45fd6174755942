/** What is needed only when work ends; `later.js` fetches it. */
import {finishedRecord, markHanded, recordTable, waysOut} from "./handing.js";

globalThis.kilterHanding = {finishedRecord, markHanded, recordTable, waysOut};
