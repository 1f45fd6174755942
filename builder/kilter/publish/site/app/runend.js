/** What is needed only when work ends; `later.js` fetches it. */
import {finishedRecord, recordTable, waysOut} from "./handing.js";

globalThis.kilterHanding = {finishedRecord, recordTable, waysOut};
