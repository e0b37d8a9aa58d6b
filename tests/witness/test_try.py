import time
def test_x(form, solve, request):
    import sys
    c=[m for n,m in sys.modules.items() if n.endswith('witness.conftest')][0]
    sets=form.sets(200,1)
    t=time.time(); seen=c.run_deck(form.deck,sets); t1=time.time()-t
    t=time.time(); 
    w=c.worst_of(form,solve,sets,seen, tuple(n for n in seen[0] if n not in form.told) if form.deck=='follower_off' else ())
    print(form.deck, w, round(t1,2), round(time.time()-t,2))
