// Nothing is drawn or decided here: enlarging a picture by wheel and fingers is all that the pages cannot do without a script.
"use strict";
