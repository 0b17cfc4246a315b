return 70;
