package org.equiphase.review;

/** QA's rules have changed, in the present transaction. */
record ReviewRulesChanged(ReviewSettings settings) {}
