panel => {
    const seen = [], outside = [], box = panel.getBoundingClientRect();
    const walk = document.createTreeWalker(panel, NodeFilter.SHOW_TEXT);
    const shown = each => each.checkVisibility({visibilityProperty: true, opacityProperty: true});
    for (let node; (node = walk.nextNode()); ) {
        const around = node.parentElement, words = node.textContent.trim();
        if (!words || !shown(around) || around.closest("style, script, title, desc, option, .sigcalc-greyed")) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        const {left, top, right, bottom, width} = range.getBoundingClientRect();
        if (width < 2) continue;
        const drawn = around.closest("svg text");
        const matrix = drawn && drawn.getScreenCTM();  // of a turned text too
        const scale = matrix ? Math.hypot(matrix.a, matrix.b) : 1;
        seen.push([parseFloat(getComputedStyle(around).fontSize) * scale, words]);
        if (left < box.left - 1 || top < box.top - 1 || right > box.right + 1 || bottom > box.bottom + 1) outside.push(words);
    }
    for (const each of panel.querySelectorAll("input[type=text], select")) {
        if (!shown(each) || each.getBoundingClientRect().width < 2) continue;
        seen.push([parseFloat(getComputedStyle(each).fontSize), each.value || each.placeholder]);
        if (each.getBoundingClientRect().right > box.right + 1) outside.push(each.value);
    }
    for (const each of [panel, ...panel.querySelectorAll(".sigcalc-talk-head, .sigcalc-columns, .sigcalc-controls, .sigcalc-view, .sigcalc-view *, .sigcalc-main, .sigcalc-main *")])
        if (shown(each) && !each.closest("svg, .slider-container, select") && getComputedStyle(each).display !== "inline"
            && (each.scrollHeight > each.clientHeight + 4 || each.scrollWidth > each.clientWidth + 4) && each.clientWidth > 2)
            outside.push(`${each.tagName} ${each.className}: ${each.scrollWidth}x${each.scrollHeight} in ${each.clientWidth}x${each.clientHeight}`);
    return {seen, outside};
}
