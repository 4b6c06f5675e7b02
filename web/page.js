// The page's own script. It runs where the pan ends, before the rest of the page is
// read, so that the pan's figures stand on the first frame.
"use strict";

(() => {
{{script boot.js}}
})();

(() => {
{{script bind.js}}
})();
